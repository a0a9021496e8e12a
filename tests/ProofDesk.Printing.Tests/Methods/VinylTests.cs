using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>Cut vinyl: what [PHYSICS] 3.2, 3.3, 3.5 and 5 (P22) say of sheets, and the trade's own experience.</summary>
public sealed class VinylTests
{
    private static TestArt WhiteSquare => new TestArt(300, 300).Rectangle("#ffffff", 0, 0, 300, 300);

    /// <summary>A yellow disc within a blue square, both on one white plate of cloth.</summary>
    private static TestArt DiscOnSquare =>
        new TestArt(400, 400).Rectangle("#1d3f9f", 0, 0, 400, 400).Disc("#f2c200", 200, 200, 120);

    // [PHYSICS] 5, P22, on printed solids read from the pictures.
    [Fact]
    public void A_white_sheet_is_itself_on_any_cloth()
    {
        var separation = CutJobs.Vinyl.SeparationOf(
            WhiteSquare,
            30,
            PressBench.Black,
            PressBench.Red,
            PressBench.Heather
        );

        var labs = Enumerable.Range(0, 3).Select(g => separation.Printed(g).MeanLab(5, 5, 25, 25)).ToArray();

        Assert.All(labs, lab => Assert.InRange(lab.L, 94, 95));
        Assert.All(labs, lab => Assert.InRange(Ciede2000.Difference(lab, labs[0]), 0, 1));
    }

    // [PHYSICS] 3.2: contrast ratio above .98.
    [Fact]
    public void Every_sheet_hides_the_cloth()
    {
        Assert.InRange(InkLibrary.OfKind(InkKind.Sheet).Length, 12, 20);
        foreach (var sheet in InkLibrary.OfKind(InkKind.Sheet))
        {
            double Y(Printing.Garments.Ground ground) =>
                Tristimulus
                    .Of(
                        CutJobs
                            .Vinyl.Press.On(
                                ground,
                                [new(sheet, Mesh.None, 1, false)],
                                PressSettings.Automatic,
                                Deposit.Expected
                            )
                            .Solid(1),
                        ViewingLight.D50
                    )
                    .Y;

            Assert.True(
                Y(PressBench.Black) / Y(PressBench.White) > 0.98,
                $"{sheet.Id} {Y(PressBench.Black) / Y(PressBench.White):0.000}"
            );
        }
    }

    [Fact]
    public void What_lies_within_another_colour_is_laid_on_it_whole()
    {
        var separation = CutJobs.Vinyl.SeparationOf(DiscOnSquare, 80, PressBench.Black);

        Assert.Equal((2, "Royal blue"), (separation.Plates.Length, separation.Plates[0].Ink.Name));
        Assert.All(separation.Plates[0].Shape!.Pixels, v => Assert.Equal(255, v));
        Assert.Equal(
            "pressed first, whole under one opening that upper sheets cover",
            separation.Grounds[0].Runs[0].Reason
        );
        Assert.Equal(
            "up to 2 sheets lie on each other, 170 um at the thickest",
            separation.Finding("sheets-stacked").Message
        );
    }

    [Fact]
    public void Neighbours_overlap_by_what_the_register_needs()
    {
        var art = new TestArt(400, 200).Rectangle("#1d3f9f", 0, 0, 220, 200).Rectangle("#d0202e", 220, 0, 400, 200);

        var separation = CutJobs.Vinyl.SeparationOf(art, 80, PressBench.White);

        // Sigma .5 mm x 2.5 + .05 = 1.3 mm, [PHYSICS] 3.4 and 3.5; 5 px a mm.
        var lower = separation.Plates[0].Shape!;
        var edge = Enumerable.Range(0, lower.Width).Last(x => lower[x, 100] >= 128) + 1;
        Assert.InRange((edge - 220) / (400 / 80.0), 1.1, 1.5);
    }

    [Fact]
    public void No_more_than_three_sheets_lie_on_each_other()
    {
        var art = new TestArt(500, 500)
            .Rectangle("#1d3f9f", 0, 0, 500, 500)
            .Disc("#ffffff", 250, 250, 220)
            .Disc("#d0202e", 250, 250, 160)
            .Disc("#f2c200", 250, 250, 90);

        var separation = CutJobs.Vinyl.SeparationOf(art, 100, PressBench.Black);

        Assert.Equal(4, separation.Plates.Length);
        Assert.Equal(3, separation.Finding("sheets-stacked").Measured);
        // The lowest is open under the middle, so that no fourth sheet lies there.
        Assert.Equal(0, separation.Plates[0].Shape![250, 250]);
    }

    [Fact]
    public void A_sheet_is_solid_and_fades_are_cut()
    {
        var art = new TestArt(400, 200).Paint((x, _) => ("#d0202e", Math.Clamp(x / 399.0, 0, 1)));

        var separation = CutJobs.Vinyl.SeparationOf(art, 80, PressBench.White);

        Assert.Contains(
            "vinyl has solids only: it is cut at one half",
            separation.Finding("no-tones").Message,
            StringComparison.Ordinal
        );
        Assert.All(separation.Plates, p => Assert.All(p.Tone.Pixels, v => Assert.Equal(255, v)));
    }

    [Fact]
    public void Thin_strokes_small_pieces_and_small_letters_are_said_with_their_place()
    {
        var art = new TestArt(800, 400)
            .Rectangle("#d0202e", 0, 0, 800, 200)
            .Rectangle("#d0202e", 100, 300, 700, 305)
            .Rectangle("#d0202e", 40, 340, 54, 354);
        for (var i = 0; i < 5; i++)
            art.Rectangle("#d0202e", 300 + 40 * i, 330, 320 + 40 * i, 370);

        // 10 px a mm: a line .5 mm wide, a piece of 1.4 mm, letters 4 mm high.
        var separation = CutJobs.Vinyl.SeparationOf(art, 80, PressBench.White);

        Assert.StartsWith(
            "strokes of \"Red\" are 0.5 mm wide at ",
            separation.Finding("strokes-too-thin").Message,
            StringComparison.Ordinal
        );
        Assert.EndsWith(
            "from the left and 30 mm from the top, 1 mm can be weeded and holds on a garment",
            separation.Finding("strokes-too-thin").Message,
            StringComparison.Ordinal
        );
        Assert.Equal(
            "1 piece of \"Red\" is smaller than 2 mm, the smallest 1.4 mm at 5 mm from the left and 35 mm from the top: such pieces lift in the wash",
            separation.Finding("small-pieces").Message
        );
        Assert.Equal(
            "\"Red\" has what looks like lettering 4.0 mm high at 30 mm from the left and 33 mm from the top, capitals from 6 mm on can be weeded",
            separation.Finding("letters-too-small").Message
        );
    }

    [Fact]
    public void What_cannot_be_cut_is_left_out_of_picture_and_paths_alike()
    {
        var art = new TestArt(400, 200).Rectangle("#d0202e", 0, 0, 400, 100).Rectangle("#d0202e", 200, 150, 204, 154);
        art.Rectangle("#d0202e", 0, 190, 400, 200);

        var separation = CutJobs.Vinyl.SeparationOf(art, 80, PressBench.White);

        Assert.Equal(
            "1 piece of \"Red\" smaller than 1 mm cannot be cut and is left out",
            separation.Finding("pieces-left-out").Message
        );
        Assert.Equal(0, separation.Plates[0].Shape![202, 152]);
    }

    [Fact]
    public void A_sheet_cannot_be_mixed_to_match()
    {
        var settings = new SpotSettings { Inks = new(null, [], ["#c8102e"]) };

        var separation = CutJobs.Vinyl.SeparationOf(WhiteSquare, 30, settings, [PressBench.Black]);

        var finding = separation.Finding("sheet-not-mixed");
        Assert.Equal(FindingWeight.Refusal, finding.Weight);
        Assert.Equal("a sheet cannot be mixed to #c8102e: sheets come in the colours they come in", finding.Message);
    }

    [Fact]
    public void White_is_left_to_a_white_shirt()
    {
        var separation = CutJobs.Vinyl.SeparationOf(WhiteSquare, 30, PressBench.White);

        Assert.Empty(separation.Plates);
        Assert.Contains("no-plate", separation.Codes());
    }

    // Common practice: vinyl is a sheet one can feel; its edge catches light.
    [Fact]
    public void A_sheet_can_be_felt_and_its_edge_seen()
    {
        var separation = CutJobs.Vinyl.SeparationOf(
            WhiteSquare,
            30,
            PressBench.White with
            {
                Colour = PressBench.Red.Colour,
            }
        );
        var print = separation.Printed();
        var films = separation.Films();

        var hand = HandFeel.Of(
            separation,
            separation.Grounds[0],
            [FilmMeasure.Of(films.Plates[0], films.Device)],
            PressSettings.Automatic
        );
        double Row(double mm) => print.MeanY(5, mm, 25, mm + 0.12);

        Assert.Equal(85, hand.ThickestUm);
        Assert.Equal("a sheet one can feel, edge and all", hand.Words);
        Assert.True(Row(0.02) > 1.02 * Row(15), $"head {Row(0.02):0.000}, middle {Row(15):0.000}");
        Assert.True(Row(29.86) < 0.98 * Row(15), $"foot {Row(29.86):0.000}, middle {Row(15):0.000}");
    }

    [Fact]
    public void Nothing_grows_and_no_dot_is_lost()
    {
        var print = CutJobs.Vinyl.SeparationOf(WhiteSquare, 30, PressBench.Black).Printed();

        Assert.All(print.Press!.Plates, plate => Assert.Equal((0, 0), (plate.GrowthUm, plate.SurelyPrintedUm)));
        Assert.InRange(print.MeanInk(-5, -5, 35, 35) * 1600, 900 * 0.999, 900 * 1.001);
    }
}
