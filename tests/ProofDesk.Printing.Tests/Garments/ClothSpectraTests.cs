using CsCheck;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Garments;

public sealed class ClothSpectraTests
{
    // Lab D50 of the two proposals, computed independently.
    [Fact]
    public void Undyed_cotton_and_white_polyester_have_their_computed_colours()
    {
        Cloths.Near(new(94.6, -0.8, 3.5), Cloths.LabOf(ClothSpectra.UndyedCotton()), 0.06);
        Cloths.Near(new(96.4, -0.4, 2.4), Cloths.LabOf(ClothSpectra.WhitePolyester()), 0.06);
    }

    [Fact]
    public void Natural_cotton_is_creamier_and_darker_than_bleached()
    {
        var natural = Cloths.LabOf(ClothSpectra.NaturalCotton());
        var bleached = Cloths.LabOf(ClothSpectra.UndyedCotton());

        Assert.True(natural.B > bleached.B + 3 && natural.L < bleached.L - 2, $"{natural}");
    }

    // [STEARNS-NOECHEL-1944] with the classic M = 0.15: a tenth of R 0.03 in R 0.86, worked by hand:
    // F = 74.615385 and 1.018182, blend 8.377902, R 0.4115717 (L* 70.3). Adding K/S gives 52, averaging areas 91.
    [Fact]
    public void A_tenth_of_black_fibre_gives_the_heather_of_Stearns_and_Noechel()
    {
        Assert.Equal(74.615385, StearnsNoechel.F(0.03, 0.15), 1e-5);
        Assert.Equal(1.018182, StearnsNoechel.F(0.86, 0.15), 1e-5);
        Assert.Equal(0.4115717, StearnsNoechel.Reflectance(8.377902, 0.15), 1e-7);
        Assert.Equal(0.4115717, StearnsNoechel.Blend(Spectrum.Flat(0.86), Spectrum.Flat(0.03), 0.1, 0.15)[0], 1e-6);
    }

    [Theory]
    [InlineData(0.10, 70)]
    [InlineData(0.05, 80)]
    [InlineData(0.01, 91)]
    public void Heather_has_the_lightness_of_the_market(double darkShare, double lightness)
    {
        var heather = ClothSpectra.Heather(Spectrum.Flat(0.86), Spectrum.Flat(0.03), darkShare);

        Assert.Equal(lightness, Cloths.LabOf(heather).L, 1.5);
    }

    [Fact]
    public void A_blend_lies_between_its_fibres_and_the_formula_inverts()
    {
        Gen.Select(Gen.Double[0.3, 0.95], Gen.Double[0.02, 0.3], Gen.Double[0, 1])
            .Sample(
                (pale, dark, share) =>
                {
                    var r = StearnsNoechel.Blend(Spectrum.Flat(pale), Spectrum.Flat(dark), share)[0];
                    return r >= dark - 1e-12
                        && r <= pale + 1e-12
                        && Math.Abs(StearnsNoechel.Reflectance(StearnsNoechel.F(r)) - r) < 1e-12;
                }
            );
    }

    [Theory]
    [InlineData(42, 55, 30)]
    [InlineData(33, 15, -45)]
    [InlineData(17, 2, -12)]
    [InlineData(25, -18, 8)]
    [InlineData(30, 0, -1)]
    [InlineData(15, 0, 0)]
    [InlineData(92, 0, 8)]
    [InlineData(85, -5, 70)]
    public void A_smooth_spectrum_has_the_colour_asked_for_and_stays_between_0_and_1(double l, double a, double b)
    {
        foreach (var light in Enum.GetValues<ViewingLight>())
        {
            var spectrum = ClothSpectra.FromLab(new(l, a, b), light);

            var reached = CieLab.FromXyz(Tristimulus.Of(spectrum, light), light);
            Cloths.Near(new(l, a, b), reached, 0.01);
            Assert.All(spectrum.Values.ToArray(), r => Assert.InRange(r, 0, 1));
        }
    }

    [Fact]
    public void A_colour_no_cloth_can_have_is_refused()
    {
        var error = Assert.Throws<ArgumentException>(() => ClothSpectra.FromLab(new(50, 0, 150)));

        Assert.Matches(
            "^no cloth has the colour Lab 50\\.0 0\\.0 150\\.0: the nearest smooth reflectance is [0-9.]+ dE00 away; check the sign of a\\* and b\\*$",
            error.Message
        );
    }

    [Fact]
    public void Dye_taken_out_and_put_back_gives_the_same_cloth()
    {
        var navy = ClothSpectra.FromLab(new(17, 2, -12));

        var again = ClothSpectra.DyedCotton([new(ClothSpectra.DyeKs(navy), 1)]);

        for (var i = 0; i < Spectrum.Bands; i++)
            Assert.Equal(navy[i], again[i], 1e-9);
    }
}
