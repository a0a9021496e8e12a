using System.IO.Compression;
using System.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Layers;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tests;

/// <summary>A shop's own press: fitted from its reading sheet in the desk, chosen in an order, pinned by the proof.</summary>
[Collection(OneServer.Name)]
public sealed class PressTests(RunningServer server)
{
    private const string BlankPath = "/presses/new/readings.json?mesh=61-64&ground=tee%2Fblack";

    [Fact]
    public async Task A_press_read_on_the_test_form_prints_the_orders_that_choose_it()
    {
        var added = await AddAsync("Shed press", await FilledAsync());
        var page = await server.Staff.GetAsync(added.Location!);
        var list = await server.Staff.GetAsync("/presses");
        var fields = RunningServer.OrderFields("shed");
        fields["Press"] = "own-shed-press";
        var form = await server.Staff.GetAsync("/orders/new");
        var made = await server.Staff.PostAsync(form, fields, form: 1, file: ("Art", "mark.svg", BlueMark));
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var version = await server.FinishedAsync(order);
        var again = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/presses/shed-press"),
            new()
            {
                ["Name"] = "Shed press",
                ["Sheet"] = (await FilledAsync()).Replace(": 45,", ": 60,", StringComparison.Ordinal),
            },
            form: 1
        );
        var proof = await server.Staff.GetAsync($"/versions/{version}");
        var shown = await server.Staff.GetAsync($"/orders/{order}");
        var edit = await server.Staff.GetAsync($"/orders/{order}/edit");
        var json = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version).Select(v => v.RequestJson).SingleAsync()
        );
        var request = await RequestAsync(json);
        var newest = await server.Service<ShopPresses>().FindAsync("own-shed-press", default);

        Assert.Equal((HttpStatusCode.Redirect, "/presses/shed-press"), (added.Status, added.Location));
        Assert.Matches("growth[^<]*on bare cloth[^<]*</td><td class=\"r keep\">45 um</td>", page.Text);
        Assert.Contains("register: no vernier was read", page.Text);
        Assert.Contains("<a href=\"/presses/shed-press\">Shed press</a>", list.Text);
        Assert.Contains("Mesh 61-64. Data class B.", list.Text);
        Assert.Contains("<option value=\"own-shed-press\">Shed press (data class B)</option>", form.Text);
        Assert.Equal(HttpStatusCode.Redirect, again.Status);
        Assert.Equal(60, newest!.Definition.Fitted.Press.GrowthUm);
        Assert.Contains("\"press\":\"own-shed-press@1\"", json);
        Assert.Equal(45, request.Press.GrowthUm);
        Assert.Contains("\"GrowthUm\":45000000000", await RecipeAsync(version));
        Assert.Contains("<dt>Press</dt><dd>Shed press, version 1, data class B</dd>", proof.Text);
        Assert.Contains("<dt>Press</dt><dd>shed press (your own)</dd>", shown.Text);
        Assert.Contains("value=\"own-shed-press\" selected", edit.Text);
    }

    [Fact]
    public async Task A_broken_sheet_says_file_line_and_field_and_stays_on_the_page()
    {
        var broken = (await FilledAsync()).Replace(": 45,", ": \"45\",", StringComparison.Ordinal);
        var line = 1 + broken[..broken.IndexOf("\"45\"", StringComparison.Ordinal)].Count(c => c == '\n');

        var refused = await AddAsync("Broken press", broken, asFile: true);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains(
            $"<a href=\"#Sheet\">readings.json, line {line}, field $.blocks[0].growthUm: not a reading that is understood. Numbers with a point, texts in quotes, field names as on the blank sheet; proofdesk test-form writes one.</a>",
            WebUtility.HtmlDecode(refused.Text)
        );
        Assert.Contains("\"growthUm\": \"45\"", WebUtility.HtmlDecode(refused.Text));
        Assert.False(await server.ReadAsync(db => db.ShopDefinitions.AnyAsync(d => d.Key == "broken-press")));
    }

    [Fact]
    public async Task A_picture_that_is_no_scan_and_a_sheet_without_readings_say_what_to_do()
    {
        var blank = (await server.Staff.GetAsync(BlankPath)).Text;

        var empty = await AddAsync("Empty press", blank);
        var drawing = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/presses/new"),
            new() { ["Name"] = "Drawn press", ["Sheet"] = blank },
            form: 1,
            file: ("Scans", "mark.svg", BlueMark)
        );

        Assert.Contains(
            "#Sheet\">the sheet has no reading in it. Type what the printed form shows, or give a scan of it.</a>",
            WebUtility.HtmlDecode(empty.Text)
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, drawing.Status);
        Assert.Contains("<a href=\"#Scans\">mark.svg: ", drawing.Text);
    }

    [Fact]
    public async Task The_films_leave_with_their_blank_sheet()
    {
        var films = await server.Staff.GetAsync("/presses/new/films.zip?mesh=43-80&ground=tee%2Fblack");

        using var zip = new ZipArchive(new MemoryStream(films.Bytes));
        Assert.Equal(
            [
                "43-80/plates/01-white.tif",
                "43-80/plates/02-black.tif",
                "43-80/plates/03-red.tif",
                "43-80/plates.pdf",
                "43-80/preview.png",
                "43-80/readings.json",
            ],
            zip.Entries.Select(e => e.FullName)
        );
        Assert.All(zip.Entries, entry => Assert.True(entry.Length > 100, entry.FullName));
    }

    [Fact]
    public async Task A_press_out_of_use_leaves_the_order_form_and_keeps_its_page()
    {
        await AddAsync("Old press", await FilledAsync());

        var retired = await server.Staff.PostAsync(await server.Staff.GetAsync("/presses/old-press"), form: 2);
        var order = await server.Staff.GetAsync("/orders/new");
        var list = await server.Staff.GetAsync("/presses");
        var after = await server.Staff.GetAsync("/presses/old-press");

        Assert.Equal((HttpStatusCode.Redirect, "/presses"), (retired.Status, retired.Location));
        Assert.DoesNotContain("own-old-press", order.Text);
        Assert.Matches("Out of use:\\s+<a href=\"/presses/old-press\">Old press</a>", list.Text);
        Assert.Contains("Out of use. A new version brings it back.", after.Text);
    }

    [Fact]
    public async Task Discharge_and_blocking_bases_reach_the_separation()
    {
        var fields = RunningServer.OrderFields("bases");
        fields["Base"] = "discharge";
        fields["BlockingBase"] = "true";
        fields["FlattenLayers"] = "true";
        var form = await server.Staff.GetAsync("/orders/new");
        var made = await server.Staff.PostAsync(form, fields, form: 1, file: ("Art", "mark.svg", BlueMark));
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var json = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.OrderId == order).Select(v => v.RequestJson).SingleAsync()
        );
        var shown = await server.Staff.GetAsync($"/orders/{order}");

        var request = await RequestAsync(json);

        Assert.Equal((BaseChoice.Discharge, true), (request.Spot.Base, request.Spot.BlockingBase));
        Assert.Equal(LayerChoice.Flatten, request.Spot.Layers);
        Assert.Contains("discharge base, blocking base under white on dyed polyester", shown.Text);
    }

    [Fact]
    public async Task A_stranger_sees_no_presses()
    {
        using var stranger = new Visitor(server);

        Assert.Equal("/sign-in", (await stranger.GetAsync("/presses")).Location);
        Assert.Equal("/sign-in", (await stranger.GetAsync(BlankPath)).Location);
    }

    private async Task<Page> AddAsync(string name, string sheet, bool asFile = false)
    {
        var fields = new Dictionary<string, string> { ["Name"] = name };
        if (!asFile)
            fields["Sheet"] = sheet;
        var form = await server.Staff.GetAsync("/presses/new");
        // The form that takes the films is a GET and is not counted.
        return await server.Staff.PostAsync(
            form,
            fields,
            form: 1,
            file: asFile ? ("Sheets", "readings.json", sheet) : null
        );
    }

    /// <summary>The blank sheet of the page, with what an eye read on the first two blocks.</summary>
    private async Task<string> FilledAsync()
    {
        var blank = (await server.Staff.GetAsync(BlankPath)).Text;
        var first = blank.IndexOf("\"growthUm\": null", StringComparison.Ordinal);
        var filled = blank[..first] + "\"growthUm\": 45" + blank[(first + "\"growthUm\": null".Length)..];
        var second = filled.IndexOf("\"growthUm\": null", StringComparison.Ordinal);
        return filled[..second] + "\"growthUm\": 75" + filled[(second + "\"growthUm\": null".Length)..];
    }

    /// <summary>What the render wrote down.</summary>
    private async Task<string> RecipeAsync(Guid version)
    {
        var digest = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version)
                .SelectMany(v => v.Files)
                .Where(f => f.Role == FileRole.Recipe && f.Path.EndsWith("/recipe.json"))
                .Select(f => f.Sha256)
                .SingleAsync()
        );
        await using var file = server.Service<IFileStore>().Open(digest);
        using var reader = new StreamReader(file);
        return await reader.ReadToEndAsync();
    }

    private async Task<ProofRequest> RequestAsync(string json)
    {
        await using var scope = server.App.Services.CreateAsyncScope();
        var order = ProofOrder.FromJson(json);
        return await scope.ServiceProvider.GetRequiredService<ProofRequests>().OfAsync(order, order.Prints[0], default);
    }

    private const string BlueMark = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <rect x="4" y="4" width="72" height="52" fill="#173b7a"/>
        </svg>
        """;
}
