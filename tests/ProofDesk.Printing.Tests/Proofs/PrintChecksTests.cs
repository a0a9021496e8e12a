using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Proofs;

/// <summary>What the separation of real art says about other lights and dyes that wander.</summary>
public sealed class PrintChecksTests
{
    private static readonly Ground RedPolyester = Polyester(TestGrounds.Red);

    [Fact]
    public void Plastisol_on_dyed_polyester_is_warned_of_and_offered_a_blocking_base()
    {
        var finding = Assert.Single(Findings(new(), RedPolyester), f => f.Code == "dye-migration");

        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Equal(
            $"the polyester of red is dyed and its dye wanders into plastisol: Golden yellow is expected to move by dE00 {finding.Measured:0.0} within 7 days",
            finding.Message
        );
        Assert.Equal(
            "run the blocking base first, under the white, or ask the supplier for low-bleed inks; keep the heat as low as the ink supplier's sheet allows, and leave a print for some days before the run",
            finding.NextStep
        );
        Assert.InRange(finding.Measured!.Value, 2, 12);
    }

    [Fact]
    public void With_the_blocking_base_it_is_the_first_plate_and_the_warning_is_gone()
    {
        var settings = new SpotSettings { BlockingBase = true };
        var separation = Separate(settings, RedPolyester, TestGrounds.Red);

        var plate = separation.Plates[0];
        Assert.Equal(("Blocking base", PlatePurpose.BlockingBase), (plate.Name, plate.Purpose));
        Assert.True(plate.FlashAfter);
        var (onPolyester, onCotton) = (separation.Grounds[0].Runs[0], separation.Grounds[1].Runs[0]);
        Assert.Equal(
            (true, "keeps the dye of red's polyester from the inks above"),
            (onPolyester.Runs, onPolyester.Reason)
        );
        Assert.Equal((false, "rests on red: no dye of it wanders"), (onCotton.Runs, onCotton.Reason));
        Assert.DoesNotContain(PrintChecks.Of(separation, settings.Press), f => f.Code == "dye-migration");
    }

    [Fact]
    public void The_blocking_base_stays_inside_the_white_it_lies_under()
    {
        var separation = Separate(new() { BlockingBase = true }, RedPolyester);

        var (below, above) = (separation.Plates[0].Shape!, separation.Plates[1].Shape!);
        Assert.True(below.Pixels.Sum(p => (long)p) < above.Pixels.Sum(p => (long)p));
        for (var i = 0; i < below.Pixels.Length; i++)
            Assert.True(below.Pixels[i] <= above.Pixels[i]);
    }

    [Fact]
    public void Ink_lists_carry_the_colour_days_later_only_where_dye_wanders()
    {
        var separation = Separate(new(), RedPolyester, TestGrounds.Red);

        var onPolyester = ExpectedSolids.Of(separation, separation.Grounds[0], PressSettings.Automatic);
        var onCotton = ExpectedSolids.Of(separation, separation.Grounds[1], PressSettings.Automatic);

        Assert.All(onPolyester, s => Assert.True(Ciede2000.Difference(s.Expected, s.DaysLater!.Value) > 0));
        Assert.All(onCotton, s => Assert.Null(s.DaysLater));
    }

    [Fact]
    public void Each_plate_is_held_against_the_arts_colour_under_three_lights()
    {
        var separation = Separate(new(), TestGrounds.Black);

        var rows = PrintChecks.SecondLights(separation, separation.Grounds[0], PressSettings.Automatic);

        Assert.Equal(separation.Plates.Select(p => p.Name), rows.Select(r => r.Plate));
        Assert.Equal("the art's #ffffff", rows[0].Target);
        Assert.All(rows, r => Assert.True(r.Difference is { UnderD65: > 0, UnderA: > 0, UnderF11: > 0 }));
    }

    // Maroon is a red pigment with black: the red line of a shop tube falls on its steep flank, a smooth maroon has none.
    [Fact]
    public void A_match_that_falls_apart_under_a_shop_tube_is_said_in_one_sentence()
    {
        var maroon = InkLibrary.Find("maroon")!;
        var printed = new ClothColour(
            TestGrounds.White,
            [new(maroon, Meshes.Spot(InkKind.Plastisol), 1, false)],
            PressSettings.Automatic,
            Deposit.Expected
        ).SolidLab(1, ViewingLight.D50);
        var rgb = Srgb.FromLab(printed);
        string Code(double linear) => $"{(int)Math.Round(255 * Srgb.Encode(linear)):x2}";
        var hex = $"#{Code(rgb.R)}{Code(rgb.G)}{Code(rgb.B)}";
        var art = new TestArt(200, 100).Rectangle(hex, 0, 0, 200, 100);
        var settings = new SpotSettings { Inks = InkChoice.Of(maroon) };
        var separation = SpotSeparator.Separate(
            art.Sized(100),
            PrintMethods.Find("plastisol")!,
            [TestGrounds.White],
            settings
        );

        var finding = Assert.Single(PrintChecks.Of(separation, settings.Press));

        var difference = Assert
            .Single(PrintChecks.SecondLights(separation, separation.Grounds[0], settings.Press))
            .Difference;
        Assert.InRange(difference.UnderD65, 0.5, 1.5);
        Assert.InRange(difference.UnderF11, 5, 7);
        Assert.Equal(("second-light", FindingWeight.Note), (finding.Code, finding.Weight));
        Assert.Equal(
            FormattableString.Invariant(
                $"Maroon on white matches the art's {hex} under D65 (dE00 {difference.UnderD65:0.0}), but dE00 {difference.UnderF11:0.0} under F11"
            ),
            finding.Message
        );
        Assert.Equal(
            "look at the first print in a shop's light and at home as well; where it must match a cloth or a card, measure that and have the ink mixed to its spectrum",
            finding.NextStep
        );
    }

    private static Finding[] Findings(SpotSettings settings, params Ground[] grounds) =>
        [.. PrintChecks.Of(Separate(settings, grounds), settings.Press)];

    private static Separation Separate(SpotSettings settings, params Ground[] grounds)
    {
        var art = new TestArt(400, 200).Disc("#ffffff", 100, 100, 90).Disc("#ffd100", 300, 100, 90);
        return SpotSeparator.Separate(art.Sized(100), PrintMethods.Find("plastisol")!, [.. grounds], settings);
    }

    private static Ground Polyester(Ground ground) =>
        ground with
        {
            Colour = ground.Colour with { Fibres = [new(FibreKind.Polyester, 1)] },
        };
}
