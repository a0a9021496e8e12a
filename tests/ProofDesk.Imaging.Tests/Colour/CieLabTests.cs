using CsCheck;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class CieLabTests
{
    [Fact]
    public void Lab_to_XYZ_and_back_is_the_same_colour()
    {
        Gen.Select(Gen.Double[0, 100], Gen.Double[-100, 100], Gen.Double[-100, 100], Gen.Enum<ViewingLight>())
            .Sample(
                (l, a, b, light) =>
                {
                    var back = CieLab.FromXyz(CieLab.ToXyz(new(l, a, b), light), light);
                    return Math.Abs(back.L - l) < 1e-9 && Math.Abs(back.A - a) < 1e-8 && Math.Abs(back.B - b) < 1e-8;
                }
            );
    }

    // The two pieces of f meet at (6/29)^3 in value; a rounded 0.008856 would leave a step.
    [Fact]
    public void The_cube_root_and_the_straight_piece_meet()
    {
        const double meet = 216.0 / 24389;

        Assert.Equal(CieLab.F(meet * (1 - 1e-12)), CieLab.F(meet * (1 + 1e-12)), 1e-12);
        Assert.Equal(6.0 / 29, CieLab.F(meet), 1e-12);
    }
}
