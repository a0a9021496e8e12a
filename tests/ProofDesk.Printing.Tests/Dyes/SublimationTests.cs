using CsCheck;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Dyes;

/// <summary>Facts of [PHYSICS] 1.10, computed independently there: dye reaches polyester only, and the cloth always shows through.</summary>
public sealed class SublimationTests
{
    [Fact]
    public void On_black_polyester_a_print_is_practically_invisible()
    {
        var black = Cloth(ClothSpectra.FromLab(new(17, 0.5, -1)), 1);
        var before = Cloths.LabOf(black.Reflectance);

        foreach (var dye in SublimationDye.Default)
        {
            var after = Cloths.LabOf(Sublimation.Cloth(black, [(dye, 1)]));
            Assert.InRange(before.L - after.L, 0, 6);
            Assert.InRange(Ciede2000.Difference(before, after), 0, 7);
        }
    }

    [Theory]
    [InlineData(1.00, 20)]
    [InlineData(0.65, 32)]
    [InlineData(0.50, 38)]
    [InlineData(0.35, 47)]
    public void The_black_of_a_blend_is_as_pale_as_the_trade_knows_it(double polyester, double lightness) =>
        Assert.Equal(lightness, Print(polyester, "black").L, 4.0);

    [Theory]
    [InlineData("cyan")]
    [InlineData("magenta")]
    public void Half_a_polyester_mutes_saturated_colours(string dye)
    {
        var (full, half) = (Print(1, dye), Print(0.5, dye));

        Assert.InRange(1 - half.Chroma / full.Chroma, 0.10, 0.27);
        Assert.Equal(13, half.L - full.L, 4.0);
    }

    [Fact]
    public void White_areas_are_the_cloth_exactly_and_cotton_takes_nothing()
    {
        var blend = Cloth(ClothSpectra.WhitePolyester(), 0.5);
        var cotton = Cloth(ClothSpectra.UndyedCotton(), 0);
        var none = SublimationDye.Default.Select(d => (d, 0.0)).ToArray();
        var all = SublimationDye.Default.Select(d => (d, 1.0)).ToArray();

        Assert.Equal(blend.Reflectance.Values.ToArray(), Sublimation.Cloth(blend, none).Values.ToArray());
        var onCotton = Sublimation.Cloth(cotton, all);
        for (var i = 0; i < Spectrum.Bands; i++)
            Assert.Equal(cotton.Reflectance[i], onCotton[i], 1e-9);
    }

    [Fact]
    public void More_dye_never_lightens()
    {
        var cloth = Cloth(ClothSpectra.WhitePolyester(), 0.65);
        Gen.Select(Gen.Int[0, 3], Gen.Double[0, 1], Gen.Double[0, 1])
            .Sample(
                (dye, a, b) =>
                {
                    var less = Sublimation.Cloth(cloth, [(SublimationDye.Default[dye], Math.Min(a, b))]);
                    var more = Sublimation.Cloth(cloth, [(SublimationDye.Default[dye], Math.Max(a, b))]);
                    return Enumerable.Range(0, Spectrum.Bands).All(i => more[i] <= less[i] + 1e-12);
                }
            );
        Assert.Equal(0, Sublimation.Amount(0));
        Assert.Equal(1, Sublimation.Amount(1));
        Assert.True(Sublimation.Amount(0.5) > 0.5);
    }

    [Fact]
    public void Grounds_that_cannot_be_sublimated_are_refused_in_words_of_the_trade()
    {
        Assert.Equal(
            "Tee is 0 % polyester and sublimation dyes no other fibre; 35 % is the least, 65 % looks good: choose another method or another garment",
            Sublimation.Refusal(Cloth(ClothSpectra.UndyedCotton(), 0))
        );
        Assert.Equal(
            "Tee has L* 17 and sublimation has no white, so the cloth shows through every colour; L* 70 is the least: choose a white or pastel garment or another method",
            Sublimation.Refusal(Cloth(ClothSpectra.FromLab(new(17, 0.5, -1)), 1))
        );
        Assert.Null(Sublimation.Refusal(Cloth(ClothSpectra.WhitePolyester(), 1)));
    }

    private static Lab Print(double polyester, string dye) =>
        Cloths.LabOf(
            Sublimation.Cloth(
                Cloth(ClothSpectra.WhitePolyester(), polyester),
                [(SublimationDye.Default.Single(d => d.Id == dye), 1)]
            )
        );

    private static GarmentColour Cloth(Spectrum reflectance, double polyester) =>
        new(
            "tee",
            "Tee",
            reflectance,
            [new(FibreKind.Cotton, 1 - polyester), new(FibreKind.Polyester, polyester)],
            0,
            null,
            DataClass.C,
            "made for a test"
        );
}
