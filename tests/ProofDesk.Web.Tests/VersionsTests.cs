using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Versions;

namespace ProofDesk.Web.Tests;

/// <summary>Two versions of an order beside each other.</summary>
[Collection(OneServer.Name)]
public sealed class VersionsTests(RunningServer server)
{
    [Fact]
    public async Task What_was_changed_is_said_in_words_and_seen_in_the_picture()
    {
        var first = await server.RenderedVersionAsync("side by side");
        var order = await server.OrderOfAsync(first);
        var alone = await server.Staff.GetAsync($"/orders/{order.Id}/versions");
        var fields = RunningServer.OrderFields("side by side");
        fields["WidthMm"] = "44";
        fields["Words"] = "OAR 11";
        fields["Lines[0].Counts[0].Count"] = "15";
        await server.Staff.PostAsync(await server.Staff.GetAsync($"/orders/{order.Id}/edit"), fields, form: 1);
        var second = await server.FinishedAsync(order.Id);

        var page = await server.Staff.GetAsync($"/orders/{order.Id}/versions");
        var rows = Rows(page);
        var picture = await server.Staff.GetAsync(Address(first, second));
        var itself = await server.Staff.GetAsync($"/orders/{order.Id}/versions?one={second}&other={second}");

        var anothers = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.OrderId != order.Id && v.ManifestSha256 != null)
                .Select(v => (Guid?)v.Id)
                .FirstOrDefaultAsync()
        );
        var apart = await server.Staff.GetAsync(
            Address(first, anothers ?? await server.RenderedVersionAsync("another order"))
        );
        var elsewhere = await server.Staff.GetAsync(Address(first, second).Replace("white", "black"));

        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (apart.Status, elsewhere.Status));
        Assert.Contains("There is one finished version so far.", alone.Text);
        Assert.Equal("Version 1 and version 2", page.Title);
        var size = rows.Single(row => row.What == "size");
        Assert.Equal(
            ("40 mm (1.57 in) wide, 28.1 mm (1.11 in) high", "44 mm (1.73 in) wide, 31 mm (1.22 in) high"),
            (size.From, size.To)
        );
        Assert.Contains(("words", "OAR 10", "OAR 11"), rows);
        Assert.Contains(("Crew-neck tee, White", "12 pieces: M 12", "15 pieces: M 15"), rows);
        Assert.DoesNotContain("method", rows.Select(row => row.What));
        Assert.Matches(
            "Unchanged: title, in hands, approve by, garments, prints, name, art, placement, method",
            page.Text
        );
        Assert.Equal((HttpStatusCode.OK, "image/png"), (picture.Status, picture.Headers["Content-Type"]));
        Assert.True(Figure(page, "Largest") > 20, "a red disc over white cloth is far from white");
        Assert.Contains("Nothing was changed", itself.Text);
        Assert.Equal(0, Figure(itself, "Largest"));
    }

    [Fact]
    public void Screens_are_told_apart_by_ink_mesh_strokes_and_place_in_the_order()
    {
        var before = Order(Plate(1, "white", "Soft white", "61-64", 2), Plate(2, "red", "Red", "90-48", 1));
        var after = Order(
            Plate(1, "white", "Hard white", "61-64", 1),
            Plate(2, "gold", "Gold", "43-80", 1),
            Plate(3, "red", "Red", "120-34", 1)
        );

        var changes = VersionChanges.Of(before.Order, before.Shown, after.Order, after.Shown, (g, c) => $"{g} {c}");

        Assert.Equal(
            [
                new("Crest", "screen white: ink", "Soft white", "Hard white"),
                new("Crest", "screen white: strokes", "2 strokes", "1 stroke"),
                new("Crest", "screen red: place in the print order", "2", "3"),
                new("Crest", "screen red: mesh", "90-48", "120-34"),
                new("Crest", "screen gold", "not there", "Gold on 43-80, line art, 1 stroke"),
            ],
            changes.Changed.AsEnumerable()
        );
        Assert.Contains("garments", changes.Alike);
        Assert.Contains("coverage", changes.Alike);
        Assert.DoesNotContain("inks", changes.Alike);
    }

    private static string Address(Guid one, Guid other) =>
        $"/versions/{one}/against/{other}/difference.png?print=left-chest&ground=tee%2Fwhite";

    private static List<(string What, string From, string To)> Rows(Page page) =>
        [
            .. Regex
                .Matches(
                    page.Text,
                    "<tr><td>[^<]*</td><th scope=\"row\">(?<what>[^<]*)</th><td>(?<from>[^<]*)</td><td><strong>(?<to>[^<]*)</strong>"
                )
                .Select(m => (m.Groups["what"].Value, m.Groups["from"].Value, m.Groups["to"].Value)),
        ];

    private static double Figure(Page page, string name) =>
        double.Parse(
            Regex.Match(page.Text, $"<dt>{name}</dt><dd class=\"number\">(?<n>[0-9.]+)").Groups["n"].Value,
            System.Globalization.CultureInfo.InvariantCulture
        );

    private static PlateSummary Plate(int screen, string name, string ink, string mesh, int strokes) =>
        new(screen, name, "spot", ink, "#000000", mesh, null, null, "", strokes, false, 12.34, new string('a', 64), "");

    private static (ProofOrder Order, ProofSummary Shown) Order(params PlateSummary[] plates) =>
        (
            new(
                "Shop",
                1001,
                "Crest shirts",
                "Club",
                null,
                null,
                [
                    new(
                        "front",
                        "Crest",
                        new string('b', 64),
                        "crest.svg",
                        "image/svg+xml",
                        Printing.Artworks.Place.Front,
                        280,
                        75,
                        0,
                        "plastisol",
                        "",
                        "auto",
                        "auto",
                        "adult",
                        []
                    ),
                ],
                [new("tee", "black", [new("M", 12)])],
                300,
                1
            ),
            new(
                "D65",
                [new("front", "Crest", "front", "plastisol", "", 280, 200, 75, 0, 300, 300, [], [.. plates], [], [])]
            )
        );
}
