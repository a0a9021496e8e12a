using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Separations;

/// <summary>What went wrong with clip art that we did not draw, each as a small drawing of the same kind.</summary>
public class StrangersArtTests
{
    private static Separation Separate(TestArt art, string method, params Ground[] grounds) =>
        SpotSeparator.Separate(art.Sized(60), PrintMethods.Find(method)!, [.. grounds], new());

    [Fact]
    public void No_base_lies_bare_where_a_black_outline_is_left_to_black_cloth()
    {
        var art = new TestArt(400, 400).Disc("#000000", 200, 200, 180).Disc("#00ff00", 200, 200, 130);

        var separation = Separate(art, "water-based", TestGrounds.Black, TestGrounds.Red, TestGrounds.White);

        var underlay = separation.Plates[0];
        var shape = underlay.Shape!;
        Assert.Equal(PlatePurpose.Base, underlay.Purpose);
        var scale = shape.Width / 360.0;
        Assert.True(shape[(int)(180 * scale), (int)(180 * scale)] > 250, "no base under the green");
        Assert.Equal(0, shape[(int)(180 * scale), (int)(25 * scale)]);
    }

    [Fact]
    public void The_base_rests_on_white_cloth_that_shows_as_the_arts_white()
    {
        var art = new TestArt(400, 200)
            .Disc("#ffffff", 100, 100, 80)
            .Disc("#404040", 300, 100, 80)
            .Disc("#61a121", 300, 100, 40);

        var separation = Separate(art, "plastisol", TestGrounds.Black, TestGrounds.White);

        Assert.True(separation.Grounds[0].Runs[0].Runs);
        Assert.False(separation.Grounds[1].Runs[0].Runs);
    }

    // The edge from mid grey to black runs exactly through the dark grey that is drawn elsewhere.
    [Fact]
    public void An_edge_that_passes_through_a_third_colour_leaves_no_line_of_it()
    {
        var art = new TestArt(600, 300)
            .Disc("#000000", 150, 150, 140)
            .Disc("#616161", 150, 150, 110)
            .Disc("#404040", 450, 150, 130);

        var separation = Separate(art, "plastisol", TestGrounds.White);

        var dark = separation.Plates.Single(p => p.Ink.Id == "mix-404040");
        var left = 0;
        var shape = dark.Shape!;
        for (var y = 0; y < shape.Height; y++)
        for (var x = 0; x < shape.Width / 2 - 10; x++)
            left += shape[x, y] >= 128 ? 1 : 0;
        Assert.Equal(0, left);
        Assert.DoesNotContain(separation.Findings, f => f.Code == "thin-lines");
    }

    [Theory]
    [InlineData("#404040")]
    [InlineData("#616161")]
    [InlineData("#a1a1a1")]
    [InlineData("#1b4f9c")]
    [InlineData("#3a2e13")]
    [InlineData("#c8582c")]
    [InlineData("#ab9300")]
    [InlineData("#e3a72f")]
    [InlineData("#c9b992")]
    public void An_ink_mixed_to_match_comes_within_three_on_black_with_its_base_and_within_eight_on_white(string hex)
    {
        var art = new TestArt(400, 200).Disc(hex, 100, 100, 80).Disc("#00a0e0", 300, 100, 80);

        var separation = Separate(art, "plastisol", TestGrounds.Black, TestGrounds.White);

        var wanted = Srgb.ToLab(ClothShows.Hex(hex)!.Value);
        Assert.InRange(Printed(0), 0, 3);
        Assert.InRange(Printed(1), 0, 8);

        double Printed(int ground)
        {
            var plan = separation.Grounds[ground];
            var solid = ExpectedSolids
                .Of(separation, plan, PressSettings.Automatic)
                .Single(s => separation.Plates[plan.Runs[s.Run].Plate].Ink.Id == "mix-" + hex[1..]);
            return Ciede2000.Difference(solid.Expected, wanted);
        }
    }

    [Fact]
    public void A_mixed_ink_is_named_in_words_and_says_what_it_is_to_match()
    {
        var art = new TestArt(600, 200)
            .Disc("#e3a72f", 100, 100, 80)
            .Disc("#404040", 300, 100, 80)
            .Disc("#616161", 500, 100, 80);

        var separation = Separate(art, "plastisol", TestGrounds.White);

        Assert.Equal(["Charcoal", "Dark grey", "Golden yellow"], separation.Plates.Select(p => p.Name).Order());
        var golden = separation.Plates.Single(p => p.Name == "Golden yellow");
        Assert.Equal("Golden yellow (to match #E3A72F)", golden.Ink.Name);
    }

    [Fact]
    public void A_fade_into_a_deeper_ink_of_its_kind_prints_over_the_lighter_one_solid()
    {
        var art = new TestArt(600, 300)
            .Rectangle("#fffd00", 0, 0, 100, 300)
            .Rectangle("#e6a000", 500, 0, 600, 300)
            .Paint((x, y) => ("#fffd00", x is >= 100 and < 500 ? 1 : 0))
            .Paint((x, y) => ("#e6a000", x is >= 100 and < 500 ? (x - 100) / 400.0 : 0));

        var separation = Separate(art, "plastisol", TestGrounds.Black);

        var yellow = separation.Plates.Single(p => p.Name == "Yellow" || p.Name == "Bright yellow");
        var gold = separation.Plates.Single(p => p.Name == "Golden yellow");
        var middle = gold.Wanted.Width / 2;
        Assert.Equal(255, yellow.Wanted[middle, 100]);
        Assert.InRange(gold.Wanted[middle, 100] / 255.0, 0.35, 0.65);
    }

    [Fact]
    public void Art_that_is_white_alone_is_printed_flashed_and_printed_again_when_asked_for()
    {
        var separation = SpotSeparator.Separate(
            new TestArt(200, 200).Disc("#ffffff", 100, 100, 90).Sized(60),
            PrintMethods.Find("plastisol")!,
            [TestGrounds.Black],
            new() { PrintFlashPrint = true }
        );

        Assert.Single(separation.Plates);
        Assert.Equal([(0, true), (0, false)], separation.Grounds[0].Runs.Select(r => (r.Plate, r.FlashAfter)));
        var solids = ExpectedSolids.Of(separation, separation.Grounds[0], PressSettings.Automatic);
        Assert.InRange(solids[0].Expected.L, 76, 86);
        Assert.InRange(solids[1].Expected.L, 86, 92);
    }
}
