using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class TristimulusTests
{
    // C1. [ASTM-E308] 10 nm tables (from memory).
    [Theory]
    [InlineData(ViewingLight.D50, 96.422, 82.521)]
    [InlineData(ViewingLight.D65, 95.047, 108.883)]
    [InlineData(ViewingLight.A, 109.850, 35.585)]
    [InlineData(ViewingLight.F11, 100.962, 64.350)]
    [InlineData(ViewingLight.D65TenDegrees, 94.811, 107.304)]
    [InlineData(ViewingLight.ATenDegrees, 111.144, 35.200)]
    [InlineData(ViewingLight.F11TenDegrees, 103.863, 65.607)]
    public void The_perfect_diffuser_is_the_white_of_the_light_and_Lab_100_0_0(ViewingLight light, double x, double z)
    {
        var xyz = Tristimulus.Of(Spectrum.Flat(1), light);
        var lab = CieLab.FromXyz(xyz, light);

        Assert.Equal(x, xyz.X, 0.02);
        Assert.Equal(100, xyz.Y, 1e-3);
        Assert.Equal(z, xyz.Z, 0.02);
        Assert.Equal((100.0, 0.0, 0.0), (lab.L, lab.A, lab.B));
        Assert.Equal(xyz, Tristimulus.White(light));
    }

    // Independent engine: Argyll spec2cie, see tests/PublishedData/README.md.
    [Fact]
    public void The_14_CIE_test_colours_have_the_published_XYZ_and_Lab()
    {
        var rows = PublishedTable.Rows("cie-test-colour-samples.csv");
        Assert.Equal(14, rows.Length);

        foreach (var row in rows)
        {
            var xyz = Tristimulus.Of(Spectrum.Of(row.AsSpan(6)), ViewingLight.D50);
            var lab = CieLab.FromXyz(xyz, ViewingLight.D50);

            Assert.Equal(row[0], xyz.X, 0.01);
            Assert.Equal(row[1], xyz.Y, 0.01);
            Assert.Equal(row[2], xyz.Z, 0.01);
            Assert.Equal(row[3], lab.L, 0.03);
            Assert.Equal(row[4], lab.A, 0.03);
            Assert.Equal(row[5], lab.B, 0.03);
        }
    }

    // Hand calculation: (0.8 + 0.05)/2 = 0.425; 116 x 0.425^(1/3) - 16 = 71.214. The mean of the two L* would be 59.4.
    [Fact]
    public void Half_the_area_pale_and_half_dark_is_the_mean_of_the_light_not_of_the_lightness()
    {
        var half = 0.5 * Tristimulus.Of(Spectrum.Flat(0.8), ViewingLight.D50);
        var mean = half + 0.5 * Tristimulus.Of(Spectrum.Flat(0.05), ViewingLight.D50);

        Assert.Equal(42.5, mean.Y, 1e-3);
        Assert.Equal(71.214, CieLab.FromXyz(mean, ViewingLight.D50).L, 1e-3);
    }
}
