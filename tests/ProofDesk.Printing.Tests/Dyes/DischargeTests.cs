using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Dyes;

/// <summary>Facts of [PHYSICS] 1.9, computed independently there: discharge leaves off-white, muted colours and the hue of dyes that resist.</summary>
public sealed class DischargeTests
{
    // So much wet ink that nothing but the dye's own residue stays.
    private const double Plenty = 1000;
    private static readonly Spectrum Undyed = ClothSpectra.UndyedCotton();

    [Theory]
    [InlineData(0.003, 85.6)]
    [InlineData(0.01, 77.3)]
    [InlineData(0.05, 58.5)]
    [InlineData(0.10, 48.3)]
    public void Black_discharges_to_an_off_white_by_the_share_of_dye_left(double left, double lightness)
    {
        var print = Cloths.LabOf(Black(left).Colour.Reflectance);

        Assert.Equal(lightness, print.L, 1.0);
        Assert.InRange(print.B, 0, 3.1);
    }

    [Fact]
    public void No_discharge_is_whiter_than_undyed_cloth()
    {
        var complete = Cloths.LabOf(Discharge.Fibre([], Undyed, Plenty));

        Assert.Equal(92.5, complete.L, 0.3);
        Assert.True(complete.L < Cloths.LabOf(Undyed).L);
        foreach (var left in new[] { 0, 0.001, 0.01, 0.1 })
            Assert.True(Cloths.LabOf(Black(left).Colour.Reflectance).L <= complete.L + 1e-9);
    }

    [Fact]
    public void A_discharge_red_is_muted_against_the_same_red_on_white_cloth()
    {
        var red = Cloths.InCloth(2.5, Pigment.Red);

        Cloths.Near(new(61, 61, 16), Cloths.Printed(Cloths.White, red), 3);
        Cloths.Near(new(54, 49, 13), Cloths.Printed(Black(0.01), red), 3);
        Cloths.Near(new(42, 31, 11), Cloths.Printed(Black(0.10), red), 3);
    }

    // The facts state neither recipes nor amounts. The recipes are ours, ordinary ones for each colour; of the amount so much is
    // taken that a tenth of it has the lightness of the fact. Hue and chroma are the check.
    [Theory]
    [InlineData(62.8, 10, -37, "azo-reactive-violet 1 anthraquinone-blue 0.2")] // purple to lavender
    [InlineData(76, -27, 10, "phthalocyanine-green 1 azo-reactive-yellow 0.35 azo-reactive-navy 0.1")] // kelly to mint
    [InlineData(70, -11, -33, "anthraquinone-blue 0.75 azo-reactive-violet 0.25")] // royal to mid blue
    [InlineData(81, -29, -17, "phthalocyanine-turquoise 1")] // turquoise left: pale aqua
    public void A_dye_that_resists_keeps_its_hue(double l, double a, double b, string recipe)
    {
        var dyes = recipe
            .Split(' ')
            .Chunk(2)
            .Select(d => (d[0], double.Parse(d[1], System.Globalization.CultureInfo.InvariantCulture)))
            .ToArray();

        Cloths.Near(new(l, a, b), Cloths.LabOf(ResidueOfLightness(l, dyes)), 5);
    }

    [Fact]
    public void Naming_the_dyes_of_a_cloth_does_not_change_its_colour()
    {
        foreach (var ground in new[] { Cloths.Black, Cloths.Red, Cloths.Royal })
        {
            var colour = Dyed(ground.Colour.Reflectance, Cotton, ("azo-reactive-red", 1), ("anthraquinone-blue", 0.3));

            var parts = ClothDyes.Of(colour, colour.Reflectance);
            var again = ClothSpectra.DyedCotton([.. parts.Select(p => new Dye(p.Ks, 1))]);

            for (var i = 0; i < Spectrum.Bands; i++)
                Assert.Equal(Math.Min(colour.Reflectance[i], Undyed[i]), again[i], 1e-9);
            Assert.Equal(colour.Reflectance.Values.ToArray(), Discharge.Cloth(colour, 0).Values.ToArray(), Close);
        }
    }

    [Fact]
    public void Only_the_cotton_of_a_blend_is_discharged()
    {
        var half = ImmutableArray.Create<FibreShare>(new(FibreKind.Cotton, 0.5), new(FibreKind.Polyester, 0.5));
        var cotton = Dyed(Cloths.Black.Colour.Reflectance, Cotton, ("vinyl-sulphone-black", 1));
        var blend = cotton with { Fibres = half };

        var (onCotton, onBlend) = (Discharge.Cloth(cotton, 30), Discharge.Cloth(blend, 30));

        for (var i = 0; i < Spectrum.Bands; i++)
        {
            Assert.InRange(onBlend[i], blend.Reflectance[i], onCotton[i]);
            Assert.Equal(StearnsNoechel.Blend(onCotton, blend.Reflectance, 0.5)[i], onBlend[i], 1e-9);
        }
        Assert.True(Cloths.LabOf(onBlend).L < 45, "half the fibres stay black");
    }

    [Fact]
    public void More_discharge_ink_leaves_less_dye_and_none_changes_nothing()
    {
        var black = Dyed(Cloths.Black.Colour.Reflectance, Cotton, ("vinyl-sulphone-black", 1));

        var lightness = new[] { 0.0, 5, 10, 20, 40 }.Select(v => Cloths.LabOf(Discharge.Cloth(black, v)).L).ToArray();

        Assert.Equal(Cloths.LabOf(black.Reflectance).L, lightness[0], 0.01);
        Assert.Equal(lightness.Order(), lightness);
        Assert.InRange(lightness[^1], 70, 85);
        Assert.Equal(1, Discharge.Residual(0.01, 0));
        Assert.Equal(0.01 + 0.99 / Math.E, Discharge.Residual(0.01, Discharge.ReachCm3PerM2), 1e-12);
    }

    [Fact]
    public void Grounds_that_cannot_be_discharged_are_refused_in_words_of_the_trade()
    {
        var black = Cloths.Black.Colour with { Name = "Black", Fibres = Cotton };
        var polyester = black with { Fibres = [new(FibreKind.Polyester, 1)] };

        Assert.Equal(
            (
                "black names no dye that discharge could take out",
                "name the dyes of its cotton in the garment file, or choose another method"
            ),
            Discharge.Refusal(black)
        );
        Assert.Equal(
            (
                "black is 0 % cotton or viscose and discharge reaches no other fibre; 35 % is the least",
                "choose another method or another garment"
            ),
            Discharge.Refusal(polyester)
        );
        Assert.Equal(
            (
                "black is dyed with sulphur black, of which discharge leaves 70 %",
                "choose another method or a garment that the maker calls dischargeable"
            ),
            Discharge.Refusal(Dyed(black.Reflectance, Cotton, ("sulphur-black", 1)) with { Name = "Black" })
        );
        Assert.Null(Discharge.Refusal(Dyed(black.Reflectance, Cotton, ("vinyl-sulphone-black", 1))));
    }

    private static bool Close(double a, double b) => Math.Abs(a - b) < 1e-9;

    private static ImmutableArray<FibreShare> Cotton => [new(FibreKind.Cotton, 1)];

    // Black as the fact has it: K/S 20 more than undyed cotton in every band.
    internal static Ground Black(double left) =>
        Cloths.Of(
            Discharge.Fibre([new(DyeKind.Find("vinyl-sulphone-black")!, Spectrum.Flat(20), left)], Undyed, Plenty)
        );

    private static GarmentColour Dyed(
        Spectrum reflectance,
        ImmutableArray<FibreShare> fibres,
        params (string Id, double Strength)[] dyes
    ) =>
        new("colour", "Colour", reflectance, fibres, 0, null, DataClass.C, "made for a test")
        {
            Dyes =
            [
                .. dyes.Select(d => DyeKind.Find(d.Id)!)
                    .Zip(dyes, (k, d) => new DyeShare(k, d.Strength, k.ResidualShare)),
            ],
        };

    internal static Spectrum ResidueOfLightness(double lightness, params (string Id, double Strength)[] dyes)
    {
        double low = 0,
            high = 50;
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Cloths.LabOf(Residue(middle)).L > lightness ? (middle, high) : (low, middle);
        }
        return Residue(low);

        Spectrum Residue(double amount) =>
            Discharge.Fibre(
                [
                    .. dyes.Select(d => DyeKind.Find(d.Id)!)
                        .Zip(dyes, (k, d) => new DyePart(k, k.KsShape.Map(v => 10 * v * amount * d.Strength), 0.1)),
                ],
                Undyed,
                Plenty
            );
    }
}
