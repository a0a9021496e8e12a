using CsCheck;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class HalftoneModelTests
{
    // [DEMICHEL-1924], exact; the table names inks 1, 2, 3 from the left, our bit 0 is ink 1.
    [Fact]
    public void Independent_screens_overlap_as_Demichel_says()
    {
        var areas = Neugebauer.Demichel([0.3, 0.6, 0.5]);

        double[] expected = [.14, .06, .21, .09, .14, .06, .21, .09];
        for (var code = 0; code < 8; code++)
            Assert.Equal(expected[code], areas[code], 1e-12);
    }

    [Fact]
    public void Dots_on_dots_lie_inside_each_other()
    {
        var areas = Neugebauer.DotOnDot([0.3, 0.6, 0.5]);

        double[] expected = [.4, 0, .1, 0, 0, 0, .2, .3];
        for (var code = 0; code < 8; code++)
            Assert.Equal(expected[code], areas[code], 1e-12);
    }

    [Fact]
    public void All_areas_add_up_to_one_and_each_ink_keeps_its_coverage()
    {
        Gen.Double[0, 1]
            .Array[1, 6]
            .Sample(coverages =>
                new[] { Neugebauer.Demichel(coverages), Neugebauer.DotOnDot(coverages) }.All(areas =>
                    Math.Abs(areas.Sum() - 1) < 1e-12
                    && Enumerable
                        .Range(0, coverages.Length)
                        .All(ink =>
                            Math.Abs(areas.Where((_, code) => (code >> ink & 1) == 1).Sum() - coverages[ink]) < 1e-12
                        )
                )
            );
    }

    [Fact]
    public void A_coverage_outside_0_to_1_is_refused_with_its_value()
    {
        var error = Assert.Throws<ArgumentException>(() => Neugebauer.Demichel([0.3, 1.5]));

        Assert.Equal("a coverage is 1.5, a number from 0 to 1 is needed", error.Message);
    }

    // [YULE-NIELSEN-1951], exact arithmetic for R 0.80 and 0.05 at half coverage.
    [Theory]
    [InlineData(1, .425)]
    [InlineData(1.5, .352226)]
    [InlineData(2, .3125)]
    [InlineData(3, .272552)]
    [InlineData(double.PositiveInfinity, .2)]
    public void Half_coverage_darkens_with_n_down_to_the_geometric_mean(double n, double expected)
    {
        Assert.Equal(expected, ToneValue.Reflectance(0.80, 0.05, 0.5, n), 1e-5);
    }

    // [MURRAY-1936] and [YULE-NIELSEN-1951]: hand values for Dt 0.52, Ds 1.40.
    [Fact]
    public void Densities_give_the_tone_with_and_without_optical_gain()
    {
        Assert.Equal(.726945, ToneValue.MurrayDavies(0.52, 1.40), 1e-6);
        Assert.Equal(.594863, ToneValue.YuleNielsen(0.52, 1.40, 1.7), 1e-6);
    }

    // [CLAPPER-YULE-1953], rg .9, t .3, rs .05, ri .6, K 0, computed independently.
    [Theory]
    [InlineData(0, .743478)]
    [InlineData(.25, .399372)]
    [InlineData(.5, .204754)]
    [InlineData(.75, .093131)]
    [InlineData(1, .032352)]
    public void Complete_scattering_gives_the_published_model(double coverage, double expected)
    {
        Assert.Equal(expected, ToneValue.ClapperYule(0.9, 0.3, coverage, 0.05, 0.6, 0), 1e-6);
    }

    // Without a surface, complete scattering of transparent ink is Yule-Nielsen with n = 2.
    [Fact]
    public void Complete_scattering_without_a_surface_is_Yule_Nielsen_with_n_2()
    {
        foreach (var a in new[] { 0, .2, .5, .8, 1 })
            Assert.Equal(
                ToneValue.Reflectance(0.9, 0.9 * 0.3 * 0.3, a, 2),
                ToneValue.ClapperYule(0.9, 0.3, a, 0, 0, 0),
                1e-12
            );
    }

    // 11.0 and 19.4 % for 30 um at 35 and 65 lpi, from distance fields of real dots; ratio 1 : 1.75.
    [Fact]
    public void Finer_screens_gain_more_from_the_same_growth()
    {
        Assert.Equal(0.110, DotGrowth.CheckerGain(35, 30), 5e-3);
        Assert.Equal(0.194, DotGrowth.CheckerGain(65, 30), 5e-3);
        Assert.Equal(1.75, DotGrowth.CheckerGain(65, 30) / DotGrowth.CheckerGain(35, 30), 0.03);
    }

    // 55 lpi: the print of a 50 % film has 65 to 85 %, from growth and optics together on white cloth, and on a base.
    [Fact]
    public void A_half_tone_film_prints_as_65_to_85_percent_at_55_lpi()
    {
        var press = PressSettings.Automatic;

        var onCloth = Printed(press.GrowthUm, OpticalGain.YuleNielsenN(Cloths.White, null, 55));
        var onBase = Printed(press.GrowthOnBaseUm, OpticalGain.YuleNielsenN(Cloths.Black, Cloths.Ink("white"), 55));

        Assert.InRange(onCloth, 0.65, 0.85);
        Assert.InRange(onBase, 0.65, 0.85);
    }

    // White L* 84, 88, 92 over cloth of L* 17 at half true area: 64, 67, 71. The mean of the two L* would be 51 to 55.
    [Theory]
    [InlineData(84, 64)]
    [InlineData(88, 67)]
    [InlineData(92, 71)]
    public void Half_the_area_white_on_black_is_the_mean_of_the_light(double white, double expected)
    {
        var mixed = ToneValue.Reflectance(Y(17), Y(white), 0.5, 1);

        Assert.Equal(expected, 116 * Math.Cbrt(mixed) - 16, 0.5);
    }

    private static double Y(double l) => Math.Pow((l + 16) / 116, 3);

    // Transparent ink with T^2 = 0.05 on R 0.866; the tone read back by [MURRAY-1936].
    private static double Printed(double growthUm, double n)
    {
        const double ground = 0.866;
        var physical = 0.5 + DotGrowth.CheckerGain(55, growthUm);
        var r = ToneValue.Reflectance(ground, 0.05 * ground, physical, n);
        return (ground - r) / (ground - 0.05 * ground);
    }
}
