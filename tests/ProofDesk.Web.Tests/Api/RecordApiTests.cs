using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Tests.Api;

/// <summary>Sending, films, costs, records and packets through the API.</summary>
[Collection(OneApi.Name)]
public sealed class RecordApiTests(ApiServer server)
{
    [Fact]
    public async Task A_version_is_mailed_once_and_its_link_called_back()
    {
        var order = await server.PostAsync("/api/v1/orders", ApiServer.NewOrder("to send"));
        var version = await server.FinishedAsync(order.Json.GetProperty("id").GetGuid());
        var path = $"/api/v1/versions/{version}/invitations";

        var wrong = await server.PostAsync(path, new { recipients = Array.Empty<object>() });
        Assert.Equal(["/recipients not-to-be-mailed"], wrong.Mistakes);
        Assert.Contains("0 recipients given, 1 to 20 are possible.", wrong.Text);
        var body = new
        {
            recipients = new[] { new { name = "Kim Reed", email = "kim@harbour-rowing.example" } },
            note = "Please look at the lettering.",
        };
        var sent = await server.PostAsync(path, body, KeyScope.Orders, "Idempotency-Key", "send once");
        var again = await server.PostAsync(path, body, KeyScope.Orders, "Idempotency-Key", "send once");

        Assert.True(sent.Status == HttpStatusCode.Created, sent.Text);
        Assert.Equal(sent.Text, again.Text);
        Assert.Empty(
            new SchemaCheck(server.Document).Faults(
                sent.Json,
                new SchemaCheck(server.Document).Resolve("#/components/schemas/InvitationList")
            )
        );
        Assert.Equal(1, await server.ReadAsync(db => db.Invitations.CountAsync(i => i.VersionId == version)));
        Assert.Contains("Please look at the lettering.", await server.LetterAsync(version, "invitation"));
        Assert.Equal(
            "sent",
            (await server.GetAsync($"/api/v1/versions/{version}")).Json.GetProperty("state").GetString()
        );

        var link = sent.Json.GetProperty("invitations")[0].GetProperty("id").GetGuid();
        var back = await server.PostAsync($"/api/v1/invitations/{link}/revocation", null);
        Assert.Equal(HttpStatusCode.OK, back.Status);
        Assert.Equal(JsonValueKind.String, back.Json.GetProperty("revokedAt").ValueKind);
    }

    [Fact]
    public async Task Films_leave_by_the_rule_of_the_desk_and_each_taking_is_in_the_log()
    {
        var open = await server.RenderedVersionAsync("not approved");
        var before = await TakenAsync(server.Version);

        var refused = await server.PostAsync($"/api/v1/versions/{open}/films", null, KeyScope.Production);
        var taken = await server.PostAsync($"/api/v1/versions/{server.Version}/films", null, KeyScope.Production);

        Assert.Equal(HttpStatusCode.Conflict, refused.Status);
        Assert.Equal(
            "Version 1 is not approved. Films leave when the client has said yes to what they print.",
            refused.Json.GetProperty("detail").GetString()
        );
        Assert.Equal((HttpStatusCode.OK, "application/zip"), (taken.Status, taken.MediaType));
        await using var zip = new ZipArchive(new MemoryStream(taken.Bytes));
        Assert.Contains(zip.Entries, e => e.FullName.EndsWith(".tif", StringComparison.Ordinal));
        Assert.Equal(before + 1, await TakenAsync(server.Version));
        Assert.True((await Release(server.Version)).GetProperty("mayLeave").GetBoolean());
        Assert.False((await Release(open)).GetProperty("mayLeave").GetBoolean());
    }

    [Fact]
    public async Task Pictures_are_given_by_digest_and_films_and_art_never()
    {
        var version = (await server.GetAsync($"/api/v1/versions/{server.Version}")).Json;
        var files = version.GetProperty("files").EnumerateArray().ToList();
        foreach (var file in files)
        {
            var given = await server.GetAsync(
                $"/api/v1/files/{file.GetProperty("sha256").GetString()}",
                KeyScope.Reading
            );
            var closed = file.GetProperty("role").GetString() is "plate" or "plates-pdf" or "production" or "art";
            Assert.Equal(closed ? HttpStatusCode.NotFound : HttpStatusCode.OK, given.Status);
            Assert.Equal(closed, file.GetProperty("href").ValueKind == JsonValueKind.Null);
        }
        Assert.Contains(files, f => f.GetProperty("role").GetString() == "plate");
        var picture = version
            .GetProperty("prints")[0]
            .GetProperty("grounds")[0]
            .GetProperty("pictures")
            .GetProperty("print")
            .GetString()!;
        var whole = await server.GetAsync(picture);
        var small = await server.GetAsync(picture + "?width=32");
        var wrong = await server.GetAsync(picture + "?width=8");
        Assert.Equal("image/png", small.MediaType);
        Assert.True(small.Bytes.Length < whole.Bytes.Length);
        Assert.Equal(["/width width-not-possible"], wrong.Mistakes);
    }

    [Fact]
    public async Task A_run_gets_cheaper_by_the_piece_and_its_parts_add_up()
    {
        var answer = await server.GetAsync($"/api/v1/versions/{server.Version}/costs?pieces=12,144", KeyScope.Reading);

        var runs = answer.Json.GetProperty("runs").EnumerateArray().ToList();
        Assert.Equal([12, 144], runs.Select(r => r.GetProperty("pieces").GetInt32()));
        double Of(JsonElement run, string part) => run.GetProperty(part).GetDouble();
        foreach (var run in runs)
            Assert.Equal(
                Of(run, "total"),
                new[] { "setUp", "work", "ink", "garments", "spoilage" }.Sum(part => Of(run, part)),
                3
            );
        Assert.True(Of(runs[0], "perPiece") > Of(runs[1], "perPiece"));
        // Two flat colours on white: two screens, whatever the quantity.
        Assert.Equal(Of(runs[0], "setUp"), Of(runs[1], "setUp"));
        Assert.Equal(60, Of(runs[0], "garments"));
        var wrong = await server.GetAsync($"/api/v1/versions/{server.Version}/costs?pieces=0");
        Assert.Equal(["/pieces pieces-not-understood"], wrong.Mistakes);
    }

    [Fact]
    public async Task A_packet_is_downloaded_and_checked_and_a_changed_one_does_not_hold()
    {
        var record = await server.GetAsync($"/api/v1/records/{server.Decision}", KeyScope.Reading);
        Assert.True(record.Json.GetProperty("stands").GetBoolean());
        Assert.Equal("Kim Reed", record.Json.GetProperty("record").GetProperty("name").GetString());
        var listed = await server.GetAsync($"/api/v1/records?order={server.Order}", KeyScope.Reading);
        Assert.Equal(server.Decision, listed.Json.GetProperty("records")[0].GetProperty("id").GetGuid());
        var packet = await server.GetAsync(record.Json.GetProperty("packet").GetString()!, KeyScope.Reading);

        var good = await server.PostAsync("/api/v1/verifications", Zip(packet.Bytes), KeyScope.Reading);
        packet.Bytes[packet.Bytes.Length / 2] ^= 1;
        var bad = await server.PostAsync("/api/v1/verifications", Zip(packet.Bytes), KeyScope.Reading);
        var other = await server.PostAsync("/api/v1/verifications?key=nobody", Zip(packet.Bytes), KeyScope.Reading);
        var nothing = await server.PostAsync("/api/v1/verifications", Zip([1, 2, 3]), KeyScope.Reading);

        Assert.Equal("valid", good.Json.GetProperty("verdict").GetString());
        Assert.Empty(
            new SchemaCheck(server.Document).Faults(
                good.Json,
                new SchemaCheck(server.Document).Resolve("#/components/schemas/VerdictAnswer")
            )
        );
        Assert.StartsWith("valid: Kim Reed approved", good.Json.GetProperty("summary").GetString());
        Assert.Equal("not-valid", bad.Json.GetProperty("verdict").GetString());
        Assert.Equal(["/key no-log-key"], other.Mistakes);
        Assert.Equal("unreadable", nothing.Json.GetProperty("verdict").GetString());
    }

    private static ByteArrayContent Zip(byte[] bytes)
    {
        var content = new ByteArrayContent([.. bytes]);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/zip");
        return content;
    }

    private async Task<JsonElement> Release(Guid version) =>
        (await server.GetAsync($"/api/v1/versions/{version}/release", KeyScope.Production)).Json;

    private Task<int> TakenAsync(Guid version) =>
        server.ReadAsync(db =>
            db.LoggedEvents.CountAsync(e =>
                e.VersionId == version && e.Kind == EventKind.FilmsExported && e.Actor == "key test Production"
            )
        );
}
