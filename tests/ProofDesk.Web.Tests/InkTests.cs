using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Tests;

/// <summary>A shop's own inks: added and changed in the desk, offered on the order form, printed with the version of the day.</summary>
[Collection(OneServer.Name)]
public sealed class InkTests(RunningServer server)
{
    private static readonly string Measured = File.ReadAllText(
        Path.Combine(AppContext.BaseDirectory, "examples", "harbour-red.txt")
    );

    [Fact]
    public async Task An_ink_measured_over_black_and_white_is_on_the_list_and_on_the_order_form()
    {
        var added = await AddAsync(
            "Quay red",
            new()
            {
                ["Formula"] = "Red paste 190\nClear base 81 %",
                ["TargetL"] = "48",
                ["TargetA"] = "69",
                ["TargetB"] = "39",
                ["Tolerance"] = "2",
            },
            Measured
        );

        var page = await server.Staff.GetAsync(added.Location!);
        var list = await server.Staff.GetAsync("/inks");
        var order = await server.Staff.GetAsync("/orders/new");

        Assert.Equal((HttpStatusCode.Redirect, "/inks/quay-red"), (added.Status, added.Location));
        Assert.Equal("Quay red", page.Title);
        Assert.Contains("scattering there is from 1 tint in white", page.Text);
        Assert.Contains("harbour-red.txt", page.Text);
        Assert.Contains("<a href=\"/inks/quay-red\">Quay red</a>", list.Text);
        Assert.Contains("48 / 69 / 39 (D50): dE00 ", list.Text);
        Assert.Contains("value=\"own-quay-red\"", order.Text);
        Assert.Equal(
            "Ink quay-red version 1",
            await server.ReadAsync(db =>
                db.AuditEvents.Where(a => a.Action == "definition written" && a.Detail.Contains("quay-red"))
                    .Select(a => a.Detail)
                    .SingleAsync()
            )
        );
    }

    [Fact]
    public async Task A_proof_is_made_of_the_version_of_its_day_and_says_how_near_the_target_is()
    {
        await AddAsync(
            "Pier blue",
            Lab(
                "28",
                "14",
                "-46",
                new()
                {
                    ["TargetL"] = "28",
                    ["TargetA"] = "14",
                    ["TargetB"] = "-46",
                    ["Formula"] = "Blue paste 150\nClear base 850",
                }
            )
        );
        var fields = RunningServer.OrderFields("blue pier");
        fields["Inks"] = "own-pier-blue";
        var form = await server.Staff.GetAsync("/orders/new");
        var made = await server.Staff.PostAsync(form, fields, form: 1, file: ("Art", "mark.svg", BlueMark));
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var version = await server.FinishedAsync(order);

        var changed = await ChangeAsync("pier-blue", Lab("31", "10", "-44", new() { ["Name"] = "Pier blue" }));
        var proof = await server.Staff.GetAsync($"/versions/{version}");
        var request = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version).Select(v => v.RequestJson).SingleAsync()
        );
        var shown = await server.Staff.GetAsync($"/orders/{order}");

        Assert.Equal(HttpStatusCode.Redirect, changed.Status);
        Assert.Contains("\"inks\":\"own-pier-blue@1\"", request);
        Assert.Matches("dE00 [0-9.]+ to target, (within|not within) 2", proof.Text);
        Assert.Matches("mix Blue paste [0-9.]+ g, Clear base [0-9.]+ g", proof.Text);
        Assert.Contains("pier blue (your own)", shown.Text);
    }

    [Fact]
    public async Task A_change_is_the_next_version_and_the_history_keeps_both()
    {
        await AddAsync("Slip green", Lab("50", "-45", "20"));

        var changed = await ChangeAsync("slip-green", Lab("52", "-44", "22", new() { ["Name"] = "Slip green" }));
        var late = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/inks/slip-green"),
            Lab("53", "-44", "22", new() { ["Name"] = "Slip green", ["Seen"] = "1" }),
            form: 1
        );
        var page = await server.Staff.GetAsync("/inks/slip-green");

        Assert.Equal(HttpStatusCode.Redirect, changed.Status);
        Assert.Equal(HttpStatusCode.Conflict, late.Status);
        Assert.Contains("Somebody else changed this ink meanwhile.", late.Text);
        Assert.Contains("name=\"Seen\" value=\"2\"", page.Text);
        Assert.Contains("<td class=\"r\">2</td>", page.Text);
        Assert.Contains("<td class=\"r\">1</td>", page.Text);
        Assert.Equal(
            [1, 2],
            await server.ReadAsync(db =>
                db.ShopDefinitions.Where(d => d.Kind == DefinitionKind.Ink && d.Key == "slip-green")
                    .OrderBy(d => d.Version)
                    .Select(d => d.Version)
                    .ToListAsync()
            )
        );
    }

    [Fact]
    public async Task An_ink_out_of_use_leaves_the_order_form_and_keeps_its_page()
    {
        await AddAsync("Old rope", Lab("70", "5", "30"));
        var page = await server.Staff.GetAsync("/inks/old-rope");

        var retired = await server.Staff.PostAsync(page, form: 2);
        var order = await server.Staff.GetAsync("/orders/new");
        var list = await server.Staff.GetAsync("/inks");
        var after = await server.Staff.GetAsync("/inks/old-rope");

        Assert.Equal((HttpStatusCode.Redirect, "/inks"), (retired.Status, retired.Location));
        Assert.DoesNotContain("own-old-rope", order.Text);
        Assert.Matches("Out of use:\\s+<a href=\"/inks/old-rope\">Old rope</a>", list.Text);
        Assert.Contains("Out of use. A new version brings it back.", after.Text);
    }

    [Fact]
    public async Task A_broken_measurement_file_says_file_line_and_field_and_writes_nothing()
    {
        var refused = await AddAsync(
            "Broken",
            [],
            Measured.Replace("FILM_THICKNESS_UM \"14\"", "FILM_THICKNESS_UM \"0\"", StringComparison.Ordinal)
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains(
            "<a href=\"#Measurement\">harbour-red.txt(9): FILM_THICKNESS_UM: 0 um; above 0 and at most 1000 is possible; write the dry film in um, or unknown.</a>",
            WebUtility.HtmlDecode(refused.Text)
        );
        Assert.False(await server.ReadAsync(db => db.ShopDefinitions.AnyAsync(d => d.Key == "broken")));
    }

    [Fact]
    public async Task Everything_wrong_with_the_form_stands_at_its_field()
    {
        var nothing = await AddAsync("Nothing", []);
        var half = await AddAsync(
            "Half",
            new()
            {
                ["L"] = "40",
                ["A"] = "10",
                ["Formula"] = "Red paste much",
            }
        );
        var sum = await AddAsync(
            "Sum",
            Lab("45", "60", "35", new() { ["Formula"] = "Red paste 200", ["Tolerance"] = "2" })
        );
        var twice = await AddAsync("Quay  Twice", Lab("45", "60", "35"));
        var again = await AddAsync("quay twice", Lab("45", "60", "35"));

        Assert.Contains(
            "#Measurement\">Neither a measurement nor a Lab is given; give the file measured over black and white, or the Lab of a solid on white cloth.</a>",
            nothing.Text
        );
        Assert.Contains("#L\">A colour needs all three: L*, a* and b*.</a>", half.Text);
        Assert.Contains(
            "Formula, line 1: \"Red paste much\" does not end with an amount",
            WebUtility.HtmlDecode(half.Text)
        );
        Assert.Contains(
            "#Formula\">The parts add up to 200 g/kg (20 %), 1000 g/kg are needed; add 800 g/kg, usually of the clear base.</a>",
            sum.Text
        );
        Assert.Equal(HttpStatusCode.Redirect, twice.Status);
        Assert.Contains("There is an ink \"quay-twice\" already.", WebUtility.HtmlDecode(again.Text));
    }

    [Fact]
    public async Task A_stranger_sees_no_inks()
    {
        using var stranger = new Visitor(server);

        Assert.Equal("/sign-in", (await stranger.GetAsync("/inks")).Location);
    }

    private async Task<Page> AddAsync(string name, Dictionary<string, string> fields, string? measurement = null)
    {
        fields["Name"] = name;
        var form = await server.Staff.GetAsync("/inks/new");
        return await server.Staff.PostAsync(
            form,
            fields,
            form: 1,
            file: measurement is null ? null : ("Measurement", "harbour-red.txt", measurement)
        );
    }

    private async Task<Page> ChangeAsync(string key, Dictionary<string, string> fields) =>
        await server.Staff.PostAsync(await server.Staff.GetAsync($"/inks/{key}"), fields, form: 1);

    private static Dictionary<string, string> Lab(
        string l,
        string a,
        string b,
        Dictionary<string, string>? more = null
    ) =>
        new(more ?? [])
        {
            ["L"] = l,
            ["A"] = a,
            ["B"] = b,
        };

    private const string BlueMark = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <rect x="4" y="4" width="72" height="52" fill="#173b7a"/>
        </svg>
        """;
}
