using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Separations;

public class SpotSeparatorTests
{
    private static Separation Separate(SizedArt art, SpotSettings settings, params ImmutableArray<Ground> grounds) =>
        SpotSeparator.Separate(art, PrintMethods.Find("plastisol")!, grounds, settings);

    private static TestArt ThreeColours() =>
        new TestArt(500, 200).Disc("#c8102e", 90, 100, 80).Disc("#ffd100", 250, 100, 80).Disc("#0057b8", 410, 100, 80);

    private static string[] Running(Separation separation, int ground) =>
        [.. separation.Grounds[ground].Runs.Where(r => r.Runs).Select(r => separation.Plates[r.Plate].Name)];

    // Shop-practice 4: three colours on pale cloth are three screens, on black four, three when white is one of them.
    [Fact]
    public void Three_colours_on_pale_cloth_are_three_screens()
    {
        var separation = Separate(ThreeColours().Sized(60), new(), TestGrounds.White);

        Assert.Equal(3, separation.Plates.Length);
        Assert.All(separation.Plates, p => Assert.Equal(PlatePurpose.Spot, p.Purpose));
    }

    [Fact]
    public void Three_colours_on_black_are_four_screens_with_the_base_first_and_flashed()
    {
        var separation = Separate(ThreeColours().Sized(60), new(), TestGrounds.Black);

        Assert.Equal(4, separation.Plates.Length);
        Assert.Equal(PlatePurpose.Base, separation.Plates[0].Purpose);
        Assert.True(separation.Plates[0].FlashAfter);
        Assert.All(separation.Plates.Skip(1), p => Assert.False(p.FlashAfter));
    }

    [Fact]
    public void Three_colours_on_black_are_three_screens_when_white_is_one_of_them()
    {
        var art = new TestArt(500, 200)
            .Disc("#c8102e", 90, 100, 80)
            .Disc("#ffffff", 250, 100, 80)
            .Disc("#0057b8", 410, 100, 80);

        var separation = Separate(art.Sized(60), new(), TestGrounds.Black);

        Assert.Equal(
            [PlatePurpose.BaseAndWhite, PlatePurpose.Spot, PlatePurpose.Spot],
            separation.Plates.Select(p => p.Purpose)
        );
    }

    [Fact]
    public void Screens_run_light_to_dark_behind_the_base_and_black_last()
    {
        var art = ThreeColours().Disc("#101010", 250, 100, 40);

        var separation = Separate(art.Sized(60), new(), TestGrounds.Red);

        Assert.Equal("Black", separation.Plates[^1].Name);
        var lightness = separation
            .Palette.Where(p => p.Plate > 0)
            .OrderBy(p => p.Plate)
            .Select(p => p.ArtColour.L)
            .ToArray();
        Assert.Equal(4, lightness.Length);
        // Within 8 L* the smaller area goes first.
        for (var i = 1; i < lightness.Length; i++)
            Assert.True(lightness[i] < lightness[i - 1] + 8);
    }

    [Fact]
    public void One_set_of_plates_serves_black_red_and_white_and_the_sheet_says_what_runs_where()
    {
        var separation = Separate(Crest.Sized(), new(), TestGrounds.Black, TestGrounds.Red, TestGrounds.White);

        Assert.Equal(["White base", "Red", "Black"], separation.Plates.Select(p => p.Name));
        Assert.Equal(["White base", "Red"], Running(separation, 0));
        Assert.Equal(["White base", "Red", "Black"], Running(separation, 1));
        Assert.Equal(["Red", "Black"], Running(separation, 2));
        Assert.Equal("the cloth shows: near-black on black", separation.Grounds[0].Runs[2].Reason);
        Assert.Equal("the art's white prints on red", separation.Grounds[1].Runs[0].Reason);
        Assert.Equal("rests on white: the cloth is pale enough to be the base", separation.Grounds[2].Runs[0].Reason);
    }

    [Fact]
    public void White_on_white_and_black_on_black_are_left_to_the_cloth_and_said()
    {
        var separation = Separate(Crest.Sized(), new(), TestGrounds.Black, TestGrounds.White);

        Assert.Equal(
            [
                new Finding(
                    "cloth-shows",
                    FindingWeight.Note,
                    "near-black (#000000) is not printed on black: the cloth shows",
                    "nothing, or ask for it to be printed there as well"
                ),
                new Finding(
                    "cloth-shows",
                    FindingWeight.Note,
                    "white (#ffffff) is not printed on white: the cloth shows",
                    "nothing, or ask for it to be printed there as well"
                ),
            ],
            separation.Findings.Where(f => f.Code == "cloth-shows")
        );
    }

    [Fact]
    public void The_cloth_showing_is_changeable_per_colour()
    {
        var settings = new SpotSettings
        {
            ClothShows = ImmutableDictionary<string, bool>.Empty.Add("#000000", false).Add("#c8102e", true),
        };

        var separation = Separate(Crest.Sized(), settings, TestGrounds.Black);

        Assert.Contains("Black", Running(separation, 0));
        Assert.DoesNotContain("Red", Running(separation, 0));
    }

    [Fact]
    public void Everything_left_to_the_cloth_is_a_finding_and_no_plate()
    {
        var art = new TestArt(100, 100).Disc("#ffffff", 50, 50, 40);

        var separation = Separate(art.Sized(60), new(), TestGrounds.White);

        Assert.Empty(separation.Plates);
        Assert.Empty(separation.Grounds[0].Runs);
        Assert.Equal("the cloth shows (white on white)", Assert.Single(separation.Palette).Note);
        Assert.Contains(
            new Finding(
                "no-plate",
                FindingWeight.Warning,
                "no plate is made: every colour of the art is left to the cloth on white",
                "print the colour although the cloth has it, or choose another garment colour",
                0,
                1,
                "plates"
            ),
            separation.Findings
        );
    }

    [Fact]
    public void A_discharge_base_is_refused_where_the_method_has_none()
    {
        var waterBased = PrintMethods.Find("water-based")!;

        var separation = SpotSeparator.Separate(
            Crest.Sized(),
            waterBased,
            [TestGrounds.Black],
            new() { Base = BaseChoice.Discharge }
        );

        Assert.Contains(
            new Finding(
                "base-not-of-this-method",
                FindingWeight.Refusal,
                "a discharge base is not part of water-based: discharge takes the cloth's own dye out and is a method of its own",
                "choose base white, auto or none, or print with the method discharge or plastisol"
            ),
            separation.Findings
        );
    }

    [Fact]
    public void No_base_and_white_base_do_as_they_are_told()
    {
        var none = Separate(ThreeColours().Sized(60), new() { Base = BaseChoice.None }, TestGrounds.Black);
        var white = Separate(ThreeColours().Sized(60), new() { Base = BaseChoice.White }, TestGrounds.White);

        Assert.Equal(3, none.Plates.Length);
        Assert.Equal(PlatePurpose.Base, white.Plates[0].Purpose);
        Assert.True(white.Grounds[0].Runs[0].Runs);
    }

    [Fact]
    public void A_highlight_white_is_an_extra_screen_printed_last_after_a_flash()
    {
        var separation = Separate(Crest.Sized(), new() { HighlightWhite = true }, TestGrounds.Black);

        Assert.Equal(PlatePurpose.HighlightWhite, separation.Plates[^1].Purpose);
        Assert.True(separation.Plates[^2].FlashAfter);
        Assert.Equal(3, separation.Plates.Length);
    }

    [Fact]
    public void Print_flash_print_runs_the_base_plate_twice()
    {
        var separation = Separate(Crest.Sized(), new() { PrintFlashPrint = true }, TestGrounds.Black);

        Assert.Equal(2, separation.Plates.Length);
        Assert.Equal([0, 0, 1], separation.Grounds[0].Runs.Select(r => r.Plate));
        Assert.DoesNotContain(separation.Findings, f => f.Code == "white-is-grey");
    }

    [Fact]
    public void A_listed_set_of_inks_is_kept_to()
    {
        var inks = InkChoice.Of(InkLibrary.Find("red")!, InkLibrary.Find("royal-blue")!);

        var separation = Separate(ThreeColours().Sized(60), new() { Inks = inks }, TestGrounds.White);

        Assert.All(separation.Plates, p => Assert.Contains(p.Ink.Id, new[] { "red", "royal-blue" }));
        Assert.Contains(separation.Findings, f => f.Code == "far-from-art");
    }

    [Fact]
    public void An_ink_mixed_to_match_meets_the_arts_colour_and_says_that_its_spectrum_is_assumed()
    {
        var separation = Separate(ThreeColours().Sized(60), new(), TestGrounds.White);

        var mixed = Assert.Single(separation.Plates, p => p.Ink.Id == "mix-0057b8").Ink;
        Assert.Equal(DataClass.C, mixed.DataClass);
        Assert.Equal(
            "spectrum assumed from the art's colour #0057b8; mix to match, the supplier's formula is needed",
            mixed.Source
        );
        Assert.DoesNotContain(separation.Findings, f => f.Code == "far-from-art");
    }

    [Fact]
    public void Water_based_colours_on_black_lie_on_a_high_solids_white()
    {
        var separation = SpotSeparator.Separate(
            ThreeColours().Sized(60),
            PrintMethods.Find("water-based")!,
            [TestGrounds.Black],
            new()
        );

        Assert.Equal("wb-white-base", separation.Plates[0].Ink.Id);
        Assert.All(separation.Plates.Skip(1), p => Assert.Equal(InkKind.WaterBased, p.Ink.Kind));
    }

    [Fact]
    public void The_same_art_gives_the_same_bytes_again()
    {
        var one = Separate(Crest.Sized(), new(), TestGrounds.Black, TestGrounds.Red);
        var two = Separate(Crest.Sized(), new(), TestGrounds.Black, TestGrounds.Red);

        Assert.Equal(one.Plates.Select(p => p.Shape!.Pixels), two.Plates.Select(p => p.Shape!.Pixels));
        Assert.Equal(one.Plates.Select(p => p.Tone.Pixels), two.Plates.Select(p => p.Tone.Pixels));
        Assert.Equal(
            one.Plates.Select(p => p.Ink.AbsorptionPerUm.Values.ToArray()),
            two.Plates.Select(p => p.Ink.AbsorptionPerUm.Values.ToArray())
        );
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 40)]
    [InlineData(40, 2)]
    public void Very_small_art_is_separated_too(int width, int height)
    {
        var art = TestArt.On(width, height, "#c8102e").Sized(10);

        var separation = Separate(art, new(), TestGrounds.White);

        Assert.Equal(255, Assert.Single(separation.Plates).Shape![0, 0]);
    }

    [Fact]
    public void Fully_transparent_art_is_a_finding_and_no_plate()
    {
        var art = new TestArt(30, 20).Sized(100);

        var separation = Separate(art, new(), TestGrounds.Black);

        Assert.Empty(separation.Plates);
        Assert.Contains(
            new Finding(
                "nothing-to-print",
                FindingWeight.Refusal,
                "the art has no inked pixel: all 30 x 20 px are transparent",
                "supply art with something on it"
            ),
            separation.Findings
        );
    }

    [Fact]
    public void One_flat_colour_over_everything_is_one_solid_screen()
    {
        var separation = Separate(TestArt.On(1500, 1500, "#c8102e").Sized(300), new(), TestGrounds.White);

        var plate = Assert.Single(separation.Plates);
        Assert.All(plate.Shape!.Pixels, value => Assert.Equal(255, value));
        Assert.Equal(300 * 300, Assert.Single(separation.Palette).AreaMm2, 1e-6);
    }

    [Fact]
    public void A_press_with_too_few_heads_is_told_how_many_are_needed()
    {
        var settings = new SpotSettings { Heads = 4 };
        var separation = Separate(ThreeColours().Sized(60), settings, TestGrounds.Black);

        Assert.Contains(
            new Finding(
                "too-few-heads",
                FindingWeight.Warning,
                "black needs 6 heads (4 prints, the rest flash and cool-down), the press has 4",
                "use fewer inks, or leave out the second base pass or the highlight white",
                6,
                4,
                "heads"
            ),
            PressPlan.Of(separation, separation.Grounds[0], PressEquipment.Of(settings))!.Findings
        );
    }

    [Fact]
    public void A_print_larger_than_the_press_is_told_the_limit()
    {
        var separation = Separate(ThreeColours().Sized(400), new(), TestGrounds.White);

        Assert.Contains(
            new Finding(
                "larger-than-print-area",
                FindingWeight.Warning,
                "the print is 400 mm wide, the press prints 380",
                "place it 380 mm wide or less",
                400,
                380,
                "mm"
            )
            {
                Spot = new(390, 0, 10, 133.33),
            },
            separation.Findings
        );
    }

    [Fact]
    public void A_separation_without_grounds_is_a_mistake_of_the_caller() =>
        Assert.Throws<ArgumentException>(() => Separate(Crest.Sized(), new()));
}
