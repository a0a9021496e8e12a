using CsCheck;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class OklabTests
{
    // [OTTOSSON-2020] as published for the corners of sRGB (values also in CSS Color 4, section on Oklab).
    [Theory]
    [InlineData(1, 1, 1, 1, 0, 0)]
    [InlineData(1, 0, 0, 0.627955, 0.224863, 0.125846)]
    [InlineData(0, 1, 0, 0.866440, -0.233888, 0.179498)]
    [InlineData(0, 0, 1, 0.452014, -0.032457, -0.311528)]
    public void The_corners_of_sRGB_have_the_published_values(
        double r,
        double g,
        double b,
        double l,
        double a,
        double bAxis
    )
    {
        var oklab = Oklab.FromLinear(new(r, g, b));

        Assert.Equal(l, oklab.L, 1e-4);
        Assert.Equal(a, oklab.A, 1e-4);
        Assert.Equal(bAxis, oklab.B, 1e-4);
    }

    [Fact]
    public void To_Oklab_and_back_is_the_same_colour()
    {
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], Gen.Double[0, 1])
            .Sample(
                (r, g, b) =>
                {
                    var back = Oklab.FromLinear(new(r, g, b)).ToLinear();
                    return Math.Abs(back.R - r) < 1e-10 && Math.Abs(back.G - g) < 1e-10 && Math.Abs(back.B - b) < 1e-10;
                }
            );
    }
}
