using CsCheck;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class SrgbTests
{
    // Second opinion: lcms 2.14, "transicc -i*sRGB -o*Lab -t3" and "-o*XYZ"; the values as printed by it.
    [Theory]
    [InlineData(100, 50, 25, 27.2439, 21.4321, 25.9945)]
    [InlineData(255, 0, 0, 54.2896, 80.8144, 69.8897)]
    [InlineData(128, 128, 128, 53.5850, 0, 0)]
    public void Display_colours_have_the_Lab_that_lcms_gives(int r, int g, int b, double l, double a, double bStar)
    {
        var lab = Srgb.ToLab(Srgb.Decode(r / 255.0, g / 255.0, b / 255.0));

        Assert.Equal(l, lab.L, 0.01);
        Assert.Equal(a, lab.A, 0.01);
        Assert.Equal(bStar, lab.B, 0.01);
    }

    [Theory]
    [InlineData(255, 0, 0, 43.6041, 22.2485, 1.3920)]
    [InlineData(128, 128, 128, 20.8133, 21.5861, 17.8063)]
    public void Display_colours_have_the_XYZ_that_lcms_gives(int r, int g, int b, double x, double y, double z)
    {
        var xyz = Srgb.ToXyz(Srgb.Decode(r / 255.0, g / 255.0, b / 255.0), ViewingLight.D50);

        Assert.Equal(x, xyz.X, 0.01);
        Assert.Equal(y, xyz.Y, 0.01);
        Assert.Equal(z, xyz.Z, 0.01);
    }

    // [IEC-61966-2-1]: the straight piece ends at 0.0031308 (code 0.04045).
    [Theory]
    [InlineData(0.0031308, 0.04045)]
    [InlineData(0.5, 187.516 / 255)]
    [InlineData(0.214041, 0.5)]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    public void The_transfer_curve_is_that_of_the_standard_both_ways(double linear, double code)
    {
        Assert.Equal(code, Srgb.Encode(linear), 1e-5);
        Assert.Equal(linear, Srgb.Decode(code), 1e-5);
    }

    // The printed forward matrix has four digits; ours, derived from the chromaticities, rounds to it. The printed
    // inverse is that of the rounded one, so ours may differ by a few 1e-4.
    [Fact]
    public void The_matrix_of_the_standard_follows_from_its_chromaticities()
    {
        double[,] forward =
        {
            { 0.4124, 0.3576, 0.1805 },
            { 0.2126, 0.7152, 0.0722 },
            { 0.0193, 0.1192, 0.9505 },
        };
        double[,] inverse =
        {
            { 3.2406, -1.5372, -0.4986 },
            { -0.9689, 1.8758, 0.0415 },
            { 0.0557, -0.2040, 1.0570 },
        };

        var derived = Srgb.LinearToXyz;
        var back = derived.Inverse();
        var ofRounded = new Matrix3(forward).Inverse();

        for (var r = 0; r < 3; r++)
        for (var c = 0; c < 3; c++)
        {
            Assert.Equal(forward[r, c], derived[r, c], 5.1e-5);
            Assert.Equal(inverse[r, c], ofRounded[r, c], 5.1e-5);
            Assert.Equal(inverse[r, c], back[r, c], 1e-3);
        }
    }

    // 50 % black and white dots on a display: (255/255)^1 / 2 = 0.5 linear = code 187.5, rounded 188; the mean of codes would be 128.
    [Fact]
    public void A_checker_of_black_and_white_averages_to_code_188()
    {
        var mean = (Srgb.Decode(0) + Srgb.Decode(1)) / 2;

        Assert.Equal(188, Math.Round(255 * Srgb.Encode(mean)));
    }

    [Theory]
    [InlineData(ViewingLight.D50)]
    [InlineData(ViewingLight.D65)]
    public void The_perfect_diffuser_is_display_white_under_either_light(ViewingLight light)
    {
        var rgb = Srgb.FromXyz(Tristimulus.White(light), light);

        Assert.Equal(1, rgb.R, 1e-12);
        Assert.Equal(1, rgb.G, 1e-12);
        Assert.Equal(1, rgb.B, 1e-12);
    }

    [Fact]
    public void Linear_light_to_XYZ_and_back_is_the_same_colour()
    {
        Gen.Select(Gen.Double[-0.5, 1.5], Gen.Double[-0.5, 1.5], Gen.Double[-0.5, 1.5], Gen.Enum<ViewingLight>())
            .Sample(
                (r, g, b, light) =>
                {
                    var back = Srgb.FromXyz(Srgb.ToXyz(new(r, g, b), light), light);
                    return Math.Abs(back.R - r) < 1e-12 && Math.Abs(back.G - g) < 1e-12 && Math.Abs(back.B - b) < 1e-12;
                }
            );
    }
}
