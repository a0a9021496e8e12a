using System.IO.Compression;
using System.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tests;

/// <summary>The shop's output devices and frames in the desk: kept in versions, chosen in an order, pinned by the proof.</summary>
[Collection(OneServer.Name)]
public sealed class DeviceTests(RunningServer server)
{
    [Fact]
    public async Task An_order_made_for_a_device_keeps_its_version_and_says_what_is_bound()
    {
        await FrameAsync("Small frame", 70);
        var added = await DeviceAsync("Back room", "small-frame", handOver: "tones");
        var page = await server.Staff.GetAsync(added.Location!);
        var form = await server.Staff.GetAsync("/orders/new");
        var fields = RunningServer.OrderFields("device");
        fields["Device"] = "own-back-room";
        fields["ImagesAcross"] = "2";
        fields["ImagesDown"] = "1";
        fields["ImageGapMm"] = "15";
        var made = await server.Staff.PostAsync(form, fields, form: 1, file: ("Art", "mark.svg", Mark));
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var version = await server.FinishedAsync(order);
        var again = await server.Staff.PostAsync(
            page,
            new()
            {
                ["Name"] = "Back room",
                ["XDpi"] = "600",
                ["YDpi"] = "600",
                ["HandOver"] = "dots",
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

        Assert.Equal((HttpStatusCode.Redirect, "/devices/back-room"), (added.Status, added.Location));
        Assert.Equal(HttpStatusCode.Redirect, again.Status);
        Assert.Contains("\"device\":\"own-back-room@1\"", json);
        Assert.Equal((300, HandOver.DotsTheirs), (request.Device.XDpi, request.Device.HandOver));
        Assert.Equal(("Small frame", 70), (request.Device.Frame.Name, request.Device.ImageFromPalletEdgeMm));
        Assert.Equal(new ScreenLayout(2, 1, 15), request.Layout);
        Assert.Contains("dpi, tones bound, dots simulated</dd>", proof.Text);
        Assert.Contains("<dt>Device</dt><dd>Back room, version 1, frame Small frame</dd>", proof.Text);
        Assert.Contains("<dt>On each screen</dt><dd>2 images, 2 x 1, 15 mm apart; coverage,", proof.Text);
        Assert.Contains("<dt>Device</dt><dd>back room (your own)</dd>", shown.Text);
        Assert.Contains("value=\"own-back-room\" selected", edit.Text);
        var (manifest, statement) = await server.ReadAsync(async db =>
        {
            var row = await db.ProofVersions.AsNoTracking().SingleAsync(v => v.Id == version);
            return (System.Text.Encoding.UTF8.GetString(row.ManifestBytes!), row.StatementTexts["en"]);
        });
        Assert.Contains("\"handOver\":\"tones bound, dots simulated\"", manifest);
        Assert.Contains("(tones bound, dots simulated).", statement);
    }

    [Fact]
    public async Task A_number_no_device_has_stays_on_the_page_with_what_is_possible()
    {
        var wide = await DeviceAsync("Wrong", "", xDpi: "100");
        var tones = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/devices/new"),
            new() { ["Name"] = "Wrong", ["TonesPercent"] = "0 12 many" },
            form: 1
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, wide.Status);
        Assert.Contains("<a href=\"#XDpi\">100 dpi is given; 300 to 5080 is possible.</a>", wide.Text);
        Assert.Contains(
            "<a href=\"#TonesPercent\">\"many\" is not a number; write eleven numbers with spaces between them.</a>",
            WebUtility.HtmlDecode(tones.Text)
        );
        Assert.False(await server.ReadAsync(db => db.ShopDefinitions.AnyAsync(d => d.Key == "wrong")));
    }

    [Fact]
    public async Task A_device_out_of_use_leaves_the_order_form_and_keeps_its_page()
    {
        await DeviceAsync("Old recorder", "");

        var retired = await server.Staff.PostAsync(await server.Staff.GetAsync("/devices/old-recorder"), form: 2);
        var order = await server.Staff.GetAsync("/orders/new");
        var list = await server.Staff.GetAsync("/devices");

        Assert.Equal((HttpStatusCode.Redirect, "/devices"), (retired.Status, retired.Location));
        Assert.DoesNotContain("own-old-recorder", order.Text);
        Assert.Matches("Out of use:\\s+<a href=\"/devices/old-recorder\">Old recorder</a>", list.Text);
    }

    [Fact]
    public async Task Early_films_are_the_bound_bits_marked_not_released_and_leave_a_line()
    {
        var version = await server.RenderedVersionAsync("early");
        var page = await server.Staff.GetAsync($"/versions/{version}/films");

        var zip = await server.Staff.PostAsync(page, form: 1);

        Assert.Equal("application/zip", zip.Headers["Content-Type"]);
        using var archive = new ZipArchive(new MemoryStream(zip.Bytes));
        Assert.DoesNotContain(archive.Entries, e => e.FullName.EndsWith(".pdf", StringComparison.Ordinal));
        var film = archive.Entries.First(e => e.FullName.EndsWith(".tif", StringComparison.Ordinal));
        using var bytes = new MemoryStream();
        await using (var entry = await film.OpenAsync())
            await entry.CopyToAsync(bytes);
        var early = new G4TiffReader(bytes.ToArray());
        Assert.StartsWith("not released; ", early.Description, StringComparison.Ordinal);
        var bound = new G4TiffReader(await BoundAsync(version, film.FullName));
        var (a, b) = (early.Read(), bound.Read());
        var differing = Enumerable.Range(0, a.Height).Where(y => !a.Row(y).SequenceEqual(b.Row(y))).ToArray();
        var area = early.Description.Split("image area ")[1].Split(' ');
        var (top, height) = (int.Parse(area[1]), int.Parse(area[3]));
        Assert.NotEmpty(differing);
        Assert.All(differing, y => Assert.False(y >= top && y < top + height, $"row {y} of the image differs"));
        var trail = await server.ReadAsync(db =>
            db.AuditEvents.Where(e => e.Detail.StartsWith("version 1, manifest"))
                .OrderByDescending(e => e.At)
                .Select(e => e.Action)
                .FirstAsync()
        );
        Assert.Equal("films exported early, marked NOT RELEASED", trail);
    }

    [Fact]
    public async Task A_stranger_sees_no_devices()
    {
        using var stranger = new Visitor(server);

        foreach (var path in (string[])["/devices", "/devices/new", "/frames/new"])
            Assert.Equal("/sign-in", (await stranger.GetAsync(path)).Location);
    }

    private async Task<byte[]> BoundAsync(Guid version, string path)
    {
        var digest = await server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == version && f.Path == path).Select(f => f.Sha256).SingleAsync()
        );
        await using var file = server.Service<Adapters.Files.IFileStore>().Open(digest);
        using var bytes = new MemoryStream();
        await file.CopyToAsync(bytes);
        return bytes.ToArray();
    }

    private async Task<Page> FrameAsync(string name, double fromEdge) =>
        await server.Staff.PostAsync(
            await server.Staff.GetAsync("/frames/new"),
            new()
            {
                ["Name"] = name,
                ["ImageFromPalletEdgeMm"] = FormattableString.Invariant($"{fromEdge}"),
                ["InnerWidthMm"] = "400",
                ["InnerHeightMm"] = "500",
            },
            form: 1
        );

    private async Task<Page> DeviceAsync(string name, string frame, string handOver = "dots", string xDpi = "300") =>
        await server.Staff.PostAsync(
            await server.Staff.GetAsync("/devices/new"),
            new()
            {
                ["Name"] = name,
                ["XDpi"] = xDpi,
                ["YDpi"] = "300",
                ["HandOver"] = handOver,
                ["LargestWidthMm"] = "330",
                ["Frame"] = frame,
            },
            form: 1
        );

    private async Task<ProofRequest> RequestAsync(string json)
    {
        await using var scope = server.App.Services.CreateAsyncScope();
        var order = ProofOrder.FromJson(json);
        return await scope.ServiceProvider.GetRequiredService<ProofRequests>().OfAsync(order, order.Prints[0], default);
    }

    private const string Mark = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <rect x="4" y="4" width="72" height="52" fill="#173b7a"/>
        </svg>
        """;
}
