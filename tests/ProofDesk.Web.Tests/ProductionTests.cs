using System.IO.Compression;
using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Tests;

/// <summary>What follows the client's yes is in the log and on the record.</summary>
[Collection(OneServer.Name)]
public sealed class ProductionTests(RunningServer server)
{
    [Fact]
    public async Task Films_a_press_check_a_replacement_and_a_count_are_leaves_and_stand_on_the_record()
    {
        var (client, review, version) = await server.InvitedClientAsync("printed");
        var decided = await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var films = await server.Staff.GetAsync($"/versions/{version}/films");
        await server.Staff.PostAsync(films, form: 1);
        var page = await server.Staff.GetAsync($"/versions/{version}/production");
        var solid = System
            .Text.RegularExpressions.Regex.Match(page.Text, "<option value=\"([^\"]+\\|1\\|[^\"]+)\">")
            .Groups[1]
            .Value;

        var check = await PostAsync(
            page,
            "press-checks",
            new()
            {
                ["Note"] = "a little light",
                ["Solid"] = WebUtility.HtmlDecode(solid),
                ["L"] = "40",
                ["A"] = "50",
                ["B"] = "30",
            },
            ("Photo", "first.svg", RunningServer.SmallMark)
        );
        var replaced = await PostAsync(
            page,
            "substitutions",
            new()
            {
                ["What"] = "tees of one maker",
                ["By"] = "tees of another",
                ["Why"] = "size M was sold out",
            }
        );
        var counted = await PostAsync(page, "finished", new() { ["Good"] = "12", ["Spoilt"] = "1" });

        Assert.Equal(HttpStatusCode.Redirect, check.Status);
        Assert.Equal(HttpStatusCode.Redirect, replaced.Status);
        Assert.Equal(HttpStatusCode.Redirect, counted.Status);
        var rows = await server.ReadAsync(db =>
            db.LoggedEvents.Where(e => e.VersionId == version).OrderBy(e => e.LeafIndex).ToListAsync()
        );
        Assert.Equal(
            [EventKind.FilmsExported, EventKind.PressChecked, EventKind.Substituted, EventKind.Finished],
            rows.Select(e => e.Kind)
        );
        var said = EventJson.Parse(rows[1].EventBytes).Facts;
        Assert.Matches("^[0-9]+\\.[0-9] dE00$", said["difference"]);
        Assert.Equal("L* 40.0, a* 50.0, b* 30.0", said["measured"]);
        Assert.NotEqual(said["photo"], said["original"]);
        var record = await server.Staff.GetAsync(decided.Location!.Replace("/receipt/", "/records/"));
        Assert.Contains("First good piece beside the proof", record.Text);
        Assert.Contains("size M was sold out", record.Text);
        var photo = await server.Staff.GetAsync($"/production/{rows[1].Id}/photo.jpg");
        Assert.Equal("image/jpeg", photo.Headers["Content-Type"]);
        Assert.Equal([0xFF, 0xD8, 0xFF], photo.Bytes[..3]);
        Assert.NotEqual(HttpStatusCode.OK, (await client.GetAsync($"/production/{rows[1].Id}/photo.jpg")).Status);
        client.Dispose();
    }

    [Fact]
    public async Task Films_without_approval_need_a_name_and_a_reason_and_are_an_event()
    {
        var version = await server.RenderedVersionAsync("in a hurry");
        var page = await server.Staff.GetAsync($"/versions/{version}/films");
        var at = page.Forms.FindIndex(f => f.Action.EndsWith("/unapproved-films", StringComparison.Ordinal));

        var nameless = await server.Staff.PostAsync(page, form: at);
        var released = await server.Staff.PostAsync(
            page,
            new() { ["Name"] = "Ada", ["Reason"] = "the client is on a plane and said yes yesterday" },
            form: at
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, nameless.Status);
        Assert.Contains("Write who answers for it.", nameless.Text);
        Assert.Equal("application/zip", released.Headers["Content-Type"]);
        using var zip = new ZipArchive(new MemoryStream(released.Bytes));
        Assert.Contains(zip.Entries, e => e.FullName.EndsWith("plates.pdf", StringComparison.Ordinal));
        var row = await server.ReadAsync(db => db.LoggedEvents.SingleAsync(e => e.VersionId == version));
        Assert.Equal(EventKind.ReleasedUnapproved, row.Kind);
        Assert.Equal("Ada", EventJson.Parse(row.EventBytes).Facts["name"]);
    }

    [Fact]
    public async Task A_press_check_without_a_photograph_says_so()
    {
        var version = await server.RenderedVersionAsync("no photograph");
        var page = await server.Staff.GetAsync($"/versions/{version}/production");

        var answer = await PostAsync(page, "press-checks", new() { ["L"] = "40" });

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains("Take a photograph of the piece: it is shown beside the proof.", answer.Text);
        Assert.Contains("A measured colour has L*, a* and b*.", answer.Text);
    }

    private Task<Page> PostAsync(
        Page page,
        string act,
        Dictionary<string, string> fields,
        (string, string, string)? file = null
    ) =>
        server.Staff.PostAsync(
            page,
            fields,
            page.Forms.FindIndex(f => f.Action.EndsWith("/" + act, StringComparison.Ordinal)),
            file
        );
}
