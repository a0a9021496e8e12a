using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using static ProofDesk.Printing.Tests.Methods.MethodBench;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>Facts P8 to P10 of [PHYSICS] 5 and common practice, measured on printed solids.</summary>
public sealed class DischargeMethodTests
{
    private static readonly SpotSettings BaseOnly = With(DischargeInks.Base);

    // P8: bound 1 of L*. Meshes that shops discharge with.
    [Theory]
    [InlineData(0.003, 85.6)]
    [InlineData(0.01, 77.3)]
    [InlineData(0.05, 58.5)]
    [InlineData(0.10, 48.3)]
    public void Black_prints_off_white_by_the_share_of_dye_left(double left, double lightness)
    {
        foreach (var mesh in new[] { "43-80", "48-70", "61-64" })
        {
            var settings = BaseOnly with { ColourMesh = Meshes.Find(mesh) };
            var print = Separate("discharge", Patch("#f4f0e8"), settings, FlatBlack(left)).Print().Solid();

            Assert.Equal(lightness, print.L, 1.0);
            Assert.InRange(print.B, -0.2, 3.2);
            Assert.True(print.L < 92.5, "never above undyed cloth");
        }
    }

    [Fact]
    public void A_fine_mesh_discharges_visibly_less()
    {
        double At(string mesh) =>
            Separate("discharge", Patch("#f4f0e8"), BaseOnly with { ColourMesh = Meshes.Find(mesh) }, FlatBlack(0.01))
                .Print()
                .Solid()
                .L;

        var (usual, fine, finest) = (At("61-64"), At("90-48"), At("140-31"));

        Assert.True(usual > fine + 3 && fine > finest + 5, $"{usual:0.0} {fine:0.0} {finest:0.0}");
    }

    // P9: 5 um of red at load 2.5, bound 3. The recipe of the fact, not the shelf's.
    [Theory]
    [InlineData(0.01, 54, 49, 13)]
    [InlineData(0.10, 42, 31, 11)]
    [InlineData(null, 61, 61, 16)]
    public void A_discharge_red_is_muted_against_the_same_red_on_white(double? left, double l, double a, double b)
    {
        var (k, s) = InkMix.InCloth([(2.5, Pigment.Red)]);
        var onMesh = Meshes.Discharge.TheoreticalInkVolume * PressSettings.Automatic.Transfer;
        var red = Ink("discharge-red") with { AbsorptionPerUm = k, ScatteringPerUm = s, VolumeSolids = 5 / onMesh };
        var ground = left is { } share ? FlatBlack(share) : White;

        var print = Separate("discharge", Patch("#c8102e"), With(red), ground).Print().Solid();

        Cloths.Near(new(l, a, b), print, 3);
    }

    // P10, bound 5. Recipes as in DischargeTests: ours, ordinary ones; so strong that a tenth of them has the lightness of the fact.
    [Theory]
    [InlineData(62.8, 10, -37, "azo-reactive-violet 1 anthraquinone-blue 0.2")] // purple to lavender
    [InlineData(76, -27, 10, "phthalocyanine-green 1 azo-reactive-yellow 0.35 azo-reactive-navy 0.1")] // kelly to mint
    [InlineData(70, -11, -33, "anthraquinone-blue 0.75 azo-reactive-violet 0.25")] // royal to mid blue
    [InlineData(81, -29, -17, "phthalocyanine-turquoise 1")] // turquoise left: pale aqua
    public void A_cloth_that_discharges_in_part_keeps_its_hue(double l, double a, double b, string recipe)
    {
        var ground = PartlyDischarging(l, recipe);

        var separation = Separate("discharge", Patch("#f4f0e8"), BaseOnly, ground);

        Cloths.Near(new(l, a, b), separation.Print().Solid(), 5);
        Assert.Contains(separation.Findings, f => f.Code == "partly-discharged" && f.Weight == FindingWeight.Warning);
    }

    [Fact]
    public void White_art_on_black_is_a_screen_of_discharge_white_without_a_base()
    {
        var separation = Separate("discharge", Patch("#ffffff"), new(), Black);

        var plate = Assert.Single(separation.Plates);
        Assert.Equal(("discharge-white", PlatePurpose.Spot, "61-64"), (plate.Ink.Id, plate.Purpose, plate.Mesh.Label));
        Assert.False(plate.FlashAfter);
        Assert.InRange(separation.Print().Solid().L, 74, 88);
    }

    // Common practice: a strong colour works on black where thin water-based ink fades.
    [Fact]
    public void Discharge_shows_a_colour_on_black_that_thin_water_based_ink_does_not()
    {
        var wanted = new Lab(50, 65, 40);
        var discharge = Separate("discharge", Patch("#d22630"), new(), Black).Print().Solid();
        var waterBased = Separate("water-based", Patch("#d22630"), new() { Base = BaseChoice.None }, Black)
            .Print()
            .Solid();

        Assert.True(discharge.Chroma > waterBased.Chroma + 20, $"{discharge} {waterBased}");
        Assert.True(Ciede2000.Difference(discharge, wanted) < Ciede2000.Difference(waterBased, wanted) - 10);
    }

    // Common practice: discharge adds almost no weight.
    [Fact]
    public void Discharge_adds_almost_no_weight()
    {
        double DryGramsPerM2(string method)
        {
            var separation = Separate(method, Patch("#d22630"), new(), Black);
            return separation.Plates.Sum(p =>
                DepositModel.FilmUm(p.Mesh, p.Ink, PressSettings.Automatic, p.Strokes, false, Deposit.Expected)
                * p.Ink.DensityGramsPerCm3
            );
        }

        var (discharge, plastisol) = (DryGramsPerM2("discharge"), DryGramsPerM2("plastisol"));

        Assert.InRange(discharge, 0, 10);
        Assert.True(discharge < plastisol / 5, $"{discharge:0.0} and {plastisol:0.0} g/m2");
    }

    [Fact]
    public void Only_the_cotton_of_a_blend_discharges_and_the_finding_says_how_far()
    {
        var cloth = ClothSpectra.FromLab(new(33, 0, -2));
        (string, double, double?)[] dyes = [("vinyl-sulphone-black", 1, null), ("disperse-black", 1, null)];
        var (cotton, half) = (Tee("Charcoal", cloth, 1, dyes[0]), Tee("Charcoal", cloth, 0.5, dyes));

        var separation = Separate("discharge", Patch("#f4f0e8"), BaseOnly, cotton, half);
        var (onCotton, onHalf) = (separation.Print(0).Solid().L, separation.Print(1).Solid().L);

        Assert.InRange(onHalf, 44, 52);
        Assert.True(onCotton > onHalf + 20, $"{onCotton:0.0} {onHalf:0.0}");
        Assert.Equal(
            new Finding(
                "part-of-the-fibres",
                FindingWeight.Warning,
                "charcoal is 50 % cotton or viscose and the other fibres keep their dye: the ground under the print goes from L* 33 to 48 only",
                "expect a dull print, choose a garment of cotton, or print plastisol on a white base",
                50,
                100,
                "%"
            ),
            separation.Findings.Single(f => f.Code == "part-of-the-fibres")
        );
    }

    [Fact]
    public void Cloth_that_cannot_be_discharged_is_refused_and_undyed_cloth_is_sent_to_water_based()
    {
        var dark = Black.Colour.Reflectance;
        Finding[] Said(Ground ground) =>
            [
                .. Separate("discharge", Patch("#d22630"), new(), ground)
                    .Findings.Where(f => f.Code.Contains("discharge")),
            ];

        Assert.Equal(
            [
                new Finding(
                    "cannot-be-discharged",
                    FindingWeight.Refusal,
                    "black is 0 % cotton or viscose and discharge reaches no other fibre; 35 % is the least",
                    "choose another method or another garment"
                ),
            ],
            Said(Tee("Black", dark, 0, ("disperse-black", 1, null)))
        );
        Assert.Equal(
            [
                new Finding(
                    "cannot-be-discharged",
                    FindingWeight.Refusal,
                    "black is dyed with sulphur black, of which discharge leaves 70 %",
                    "choose another method or a garment that the maker calls dischargeable"
                ),
            ],
            Said(Tee("Black", dark, 1, ("sulphur-black", 1, null)))
        );
        Assert.Equal(
            [
                new Finding(
                    "cannot-be-discharged",
                    FindingWeight.Refusal,
                    "black names no dye that discharge could take out",
                    "name the dyes of its cotton in the garment file, or choose another method"
                ),
            ],
            Said(Tee("Black", dark, 1))
        );
        Assert.Equal(
            [
                new Finding(
                    "nothing-to-discharge",
                    FindingWeight.Note,
                    "white has no dye in its cotton to take out: the print is what water-based ink would give",
                    "print it water-based, which needs no activator"
                ),
            ],
            Said(White)
        );
    }

    // Common practice: discharge varies between makers of the same colour.
    [Fact]
    public void The_range_runs_from_weak_to_strong_discharge_and_the_finding_has_its_numbers()
    {
        var separation = Separate("discharge", Patch("#f4f0e8"), BaseOnly, Black);
        double At(Deposit deposit) => separation.Print(0, deposit).Solid().L;

        var (weak, expected, strong) = (At(Deposit.Light), At(Deposit.Expected), At(Deposit.Heavy));

        Assert.True(weak + 4 < expected && expected + 3 < strong, $"{weak:0.0} {expected:0.0} {strong:0.0}");
        var said = separation.Findings.Single(f => f.Code == "discharge-varies");
        Assert.Equal(
            string.Create(
                CultureInfo.InvariantCulture,
                $"discharge varies between makers of the same colour: the ground under the print on black is expected at L* {expected:0}, weak to strong discharge at L* {weak:0} to {strong:0}"
            ),
            said.Message
        );
        Assert.Equal(
            "print a sample on the very garments of the order; the proof holds for no other maker",
            said.NextStep
        );
    }

    [Fact]
    public void A_second_pass_adds_to_the_deposit_and_does_not_discharge_the_residue_again()
    {
        var pass = new InkPass(DischargeInks.Base, Meshes.Discharge, 1, false);
        var cloth = new ClothColour(
            FlatBlack(0.1),
            [pass, pass],
            PressSettings.Automatic,
            Deposit.Expected,
            MethodPress.Screens.ActionOf
        );

        var (once, twice) = (cloth.SolidLab(0b01, ViewingLight.D50).L, cloth.SolidLab(0b11, ViewingLight.D50).L);

        Assert.InRange(twice - once, 0, 1);
        Assert.Equal(Cloths.LabOf(Discharge.Cloth(FlatBlack(0.1).Colour, 1000)).L, twice, 0.2);
    }

    [Fact]
    public void A_base_asked_for_is_said_to_be_no_part_of_the_method()
    {
        var separation = Separate("discharge", Patch("#d22630"), new() { Base = BaseChoice.White }, Black);

        Assert.DoesNotContain(separation.Plates, p => p.Purpose.IsUnderColours);
        Assert.Equal(
            new Finding(
                "no-base-in-this-method",
                FindingWeight.Note,
                "no base is made: discharge takes its pale ground out of the cloth itself",
                "nothing, or print plastisol with --base white or --base discharge"
            ),
            separation.Findings.Single(f => f.Code == "no-base-in-this-method")
        );
    }

    [Fact]
    public void Every_discharge_ink_carries_the_caution_of_its_activator()
    {
        Assert.All(
            InkLibrary.OfKind(InkKind.Discharge),
            ink =>
            {
                Assert.Contains("activator", ink.Caution, StringComparison.Ordinal);
                Assert.Contains("fumes", ink.Caution, StringComparison.Ordinal);
                Assert.Contains("supplier's sheet", ink.Caution, StringComparison.Ordinal);
            }
        );
        Assert.Equal(DischargeInks.Caution, PrintMethods.Find("discharge")!.Caution);
    }

    // The black of the fact: K/S 20 more than undyed cotton in every band.
    private static Ground FlatBlack(double left)
    {
        var reflectance = ClothSpectra.UndyedCotton().Map(r => KubelkaMunk.Rinf(KubelkaMunk.Ks(r) + 20));
        return Tee("Black", reflectance, 1, ("vinyl-sulphone-black", 1, left));
    }

    private static Ground PartlyDischarging(double lightness, string recipe)
    {
        var dyes = recipe
            .Split(' ')
            .Chunk(2)
            .Select(d => (Dye: d[0], Strength: double.Parse(d[1], CultureInfo.InvariantCulture)))
            .ToArray();
        double low = 0,
            high = 50;
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            var pass = new InkPass(DischargeInks.Base, Meshes.Discharge, 1, false);
            var residue = DischargeAction.Cloth(Dyed(middle).Colour, pass, PressSettings.Automatic, Deposit.Expected);
            (low, high) = Cloths.LabOf(residue).L > lightness ? (middle, high) : (low, middle);
        }
        return Dyed(low);

        Ground Dyed(double amount)
        {
            var ks = ClothSpectra.UndyedCotton().Map(KubelkaMunk.Ks);
            foreach (var (dye, strength) in dyes)
                ks = Spectrum.Combine(
                    ks,
                    DyeKind.Find(dye)!.KsShape,
                    (sum, shape) => sum + 10 * amount * strength * shape
                );
            return Tee("Cloth", ks.Map(KubelkaMunk.Rinf), 1, [.. dyes.Select(d => (d.Dye, d.Strength, (double?)0.1))]);
        }
    }
}
