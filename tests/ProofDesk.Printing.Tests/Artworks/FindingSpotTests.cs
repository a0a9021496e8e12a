using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Artworks;

/// <summary>Findings that have a place name it in millimetres of the inked extent. Art of 10 px a mm.</summary>
public sealed class FindingSpotTests
{
    [Fact]
    public void A_thin_line_is_marked_along_its_length()
    {
        var art = new TestArt(600, 400)
            .Rectangle("#c8102e", 0, 0, 600, 200)
            .Rectangle("#c8102e", 0, 380, 600, 400)
            .Rectangle("#c8102e", 100, 300, 500, 302);

        var thin = Spot(art, "thin-lines");

        // 2 px of 0.1 mm from 10 to 50 mm, 30 mm down; its middle line is a little shorter.
        Assert.InRange(thin.XMm, 9.9, 10.6);
        Assert.InRange(thin.XMm + thin.WidthMm, 49.4, 50.1);
        Assert.InRange(thin.YMm, 29.9, 30.2);
        Assert.InRange(thin.HeightMm, 0.05, 0.25);
    }

    [Fact]
    public void Specks_and_soft_edges_are_marked_where_most_of_them_are()
    {
        var art = new TestArt(600, 400).Rectangle("#c8102e", 0, 0, 600, 40).Rectangle("#c8102e", 0, 360, 600, 400);
        foreach (var (x, y) in ((int, int)[])[(402, 202), (410, 210), (420, 204), (100, 100)])
            art.Rectangle("#c8102e", x, y, x + 2, y + 2);
        art.Rectangle("#c8102e", 60, 280, 120, 330, alpha: 0.5);

        var (specks, soft) = (Spot(art, "specks"), Spot(art, "semi-transparent"));

        Assert.True(Holds(specks, 40.2, 20.2) && Holds(specks, 42.1, 20.5) && !Holds(specks, 10, 10), $"{specks}");
        Assert.True(Holds(soft, 8, 30) && !Holds(soft, 30, 30) && soft.WidthMm <= 12, $"{soft}");
    }

    [Fact]
    public void Art_over_the_edge_of_the_press_is_marked_beyond_it()
    {
        var art = TestArt.On(400, 100, "#c8102e");

        var over = art.Sized(400).Separated("larger-than-print-area");

        // 400 mm on 380, centred: 10 mm over on either side.
        Assert.Equal(new FindingSpot(390, 0, 10, 100), over.Spot);
    }

    [Fact]
    public void The_file_of_findings_has_a_spot_only_where_there_is_one()
    {
        var plain = new Finding("cropped", FindingWeight.Note, "what", "next", 1, null, "mm");
        var placed = plain with { Spot = new(1.25, 2, 3, 4.5) };

        Assert.DoesNotContain("spot", FindingsJson.Write([plain]), StringComparison.Ordinal);
        Assert.Equal(
            FindingsJson
                .Write([plain])
                .Replace(
                    "\n  }",
                    ",\n    \"spot\": {\n      \"xMm\": 1.25,\n      \"yMm\": 2,\n      \"widthMm\": 3,\n      \"heightMm\": 4.5\n    }\n  }",
                    StringComparison.Ordinal
                ),
            FindingsJson.Write([placed])
        );
        Assert.Equal(placed, plain with { Spot = new(1.25, 2, 3, 4.5) });
    }

    private static FindingSpot Spot(TestArt art, string code) => art.Sized(60).Separated(code).Spot!;

    private static bool Holds(FindingSpot spot, double x, double y) =>
        x >= spot.XMm && x <= spot.XMm + spot.WidthMm && y >= spot.YMm && y <= spot.YMm + spot.HeightMm;
}

file static class Finds
{
    public static Finding Separated(this SizedArt art, string code) =>
        PrintMethods
            .Find("plastisol")!
            .Separate(art, PrintMethods.Find("plastisol")!, [TestGrounds.White], new())
            .Findings.First(f => f.Code == code);
}
