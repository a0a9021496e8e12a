using ProofDesk.Printing.Cutting;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Rosters;

public sealed class BlockLettersTests
{
    private const string Everything = "ABCDEFGHIJKLMNOPQRSTUVWXYZÆØ0123456789-.'ÅÄÖÉÈÊËÜÑÇČŠŽ";

    [Fact]
    public void Latin_names_can_be_set_and_others_are_named()
    {
        Assert.Null(BlockLetters.Unsupported(Everything + " "));
        Assert.Equal("Ж", BlockLetters.Unsupported("AЖ"));
        Assert.Equal("😀", BlockLetters.Unsupported("A😀"));
    }

    [Fact]
    public void Capitals_are_as_high_as_asked_and_accents_stand_above()
    {
        var plain = BlockLetters.Set("HX08", 50);
        var ring = BlockLetters.Set("Å", 50);

        Assert.Equal((50, 0), (plain.HeightMm, plain.AboveMm));
        Assert.Equal(23, ring.AboveMm, 6);
        Assert.Equal(0, plain.Contours.SelectMany(c => c).Min(p => p.Y), 6);
    }

    /// <summary>Each letter weeds to one piece (with its accents), with the holes it has.</summary>
    [Theory]
    [InlineData("A", 1, 1)]
    [InlineData("B", 1, 2)]
    [InlineData("8", 1, 2)]
    [InlineData("6", 1, 1)]
    [InlineData("Ø", 1, 2)]
    [InlineData("Ä", 3, 1)]
    [InlineData("Å", 2, 2)]
    [InlineData("W", 1, 0)]
    [InlineData("M", 1, 0)]
    [InlineData("S", 1, 0)]
    public void A_letter_is_one_piece(string letter, int pieces, int holes)
    {
        var layer = Traced(letter);

        Assert.Equal((pieces, holes), (layer.Pieces.Count(), layer.Pieces.Sum(p => p.Holes.Length)));
    }

    [Fact]
    public void Plate_and_path_of_a_piece_have_the_same_area()
    {
        var piece = RosterPiece.Of(new(2, "ÅSTRÖM", "10", "", ""), new());

        var separation = RosterPlates.Of(piece, CutJobs.Vinyl, PressBench.Black, InkLibrary.Find("sheet-white")!);
        var film = separation.Films(720).Plates[0];
        var bits = FilmMeasure.Of(film, OutputDevice.Fallback with { XDpi = 720, YDpi = 720 }).AreaCm2;

        var exact =
            CutLayer
                .Of(ContourTracer.Trace(film, OutputDevice.Fallback with { XDpi = 720, YDpi = 720 }, 0.02))
                .Pieces.Sum(p => p.AreaMm2) / 100;
        Assert.InRange(exact / bits, 0.995, 1.005);
        Assert.InRange(Even(piece) / 100 / bits, 0.995, 1.005);
    }

    /// <summary>Even-odd area: holes lie wholly within their outlines, so areas alternate by how deep a contour lies.</summary>
    private static double Even(RosterPiece piece)
    {
        var contours = piece.Contours.Select(c => new Contour(c, false)).ToArray();
        return contours.Sum(c => (contours.Count(o => o != c && o.Holds(c.Points[0])) % 2 == 0 ? 1 : -1) * c.AreaMm2);
    }

    [Fact]
    public void Long_names_are_set_smaller_and_too_long_ones_refused()
    {
        var style = new RosterStyle { LargestWidthMm = 60 };
        var entry = new RosterEntry(4, "ANNA-KAROLINA ADLERKREUTZ"[..24], "7", "", "");
        var roster = new Roster("team.csv", [entry]) { Style = style };

        var piece = RosterPiece.Of(entry, style);
        var findings = RosterChecks.Of(roster, CutJobs.Vinyl, [PressBench.Black], [piece]).ToArray();

        Assert.Equal(
            "team.csv, line 4, name: \"ANNA-KAROLINA ADLERKREUT\" fits 60 mm only with capitals 3.7 mm high, 6 mm can be weeded",
            findings[0].Message
        );
    }

    [Fact]
    public void Names_and_numbers_are_not_screen_printed_one_by_one()
    {
        var roster = new Roster("team.csv", [new(2, "A", "1", "", "teal")]);
        var method = Printing.Methods.PrintMethods.Find("plastisol")!;

        var findings = RosterChecks.Of(roster, method, [PressBench.Black], []).ToArray();
        var colour = RosterChecks.Of(
            roster,
            CutJobs.Vinyl,
            [PressBench.Black],
            [RosterPiece.Of(roster.Entries[0], new())]
        );

        Assert.Equal(
            "names and numbers are not made with plastisol: every piece would be a set of its own",
            findings[0].Message
        );
        Assert.Equal("team.csv, line 2, colour: \"teal\" is not in the order", Assert.Single(colour).Message);
    }

    [Fact]
    public void Pieces_lie_on_the_sheet_without_touching()
    {
        var pieces = Enumerable
            .Range(0, 9)
            .Select(i => RosterPiece.Of(new(i + 2, "NAME" + (char)('A' + i), $"{10 + i}", "", ""), new()));

        var sheets = RosterNesting.Of([.. pieces], 500);

        Assert.Equal(18, sheets.Sum(s => s.Blocks.Length));
        foreach (var sheet in sheets)
        {
            Assert.InRange(sheet.HeightMm, 1, RosterNesting.LongestMm);
            var boxes = sheet
                .Blocks.Select(b => new Box(b.X, b.Y, b.X + b.Block.WidthMm, b.Y + b.Block.HeightMm))
                .ToArray();
            Assert.All(boxes, b => Assert.True(b.Left >= 0 && b.Right <= 500 && b.Bottom <= sheet.HeightMm));
            for (var i = 0; i < boxes.Length; i++)
            for (var j = 0; j < i; j++)
                Assert.False(boxes[i].Touches(boxes[j], 0));
        }
    }

    private static CutLayer Traced(string letter)
    {
        var piece = RosterPiece.Of(new(2, letter, "", "", ""), new());
        var film = RosterPlates
            .Of(piece, CutJobs.Vinyl, PressBench.Black, InkLibrary.Find("sheet-white")!)
            .Films(720)
            .Plates[0];
        return CutLayer.Of(ContourTracer.Trace(film, OutputDevice.Fallback with { XDpi = 720, YDpi = 720 }, 0.02));
    }
}
