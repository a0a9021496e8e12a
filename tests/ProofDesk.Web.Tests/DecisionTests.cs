using System.Globalization;
using System.IO.Compression;
using System.Net;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Renders;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Web.Tests;

/// <summary>The client's decision; conditions L3, S1-S5 of docs/security.md.</summary>
[Collection(OneServer.Name)]
public sealed class DecisionTests(RunningServer server)
{
    private static readonly Dictionary<string, string> AllTicked = new()
    {
        ["Words"] = "true",
        ["Size"] = "true",
        ["Garments"] = "true",
        ["Colours"] = "true",
        ["Name"] = "Kim Reed",
    };

    [Fact]
    public async Task A_client_approves_and_the_packet_verifies()
    {
        var (client, review, version) = await server.InvitedClientAsync("approved");
        var lastLook = await LastLookAsync(client, review);

        var decided = await client.PostAsync(lastLook);
        var receipt = await client.GetAsync(decided.Location!);
        var packet = await client.GetAsync(decided.Location + "/packet.zip");

        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        Assert.Equal("Approved. Thank you.", receipt.Title);
        Assert.Equal(HttpStatusCode.OK, packet.Status);
        var verdict = PacketVerifier.Verify(new MemoryStream(packet.Bytes), VerifyOptions.Nothing);
        Assert.DoesNotContain(verdict.Steps, s => s.Outcome == StepOutcome.Failed);
        await IsMadeAgainAsync(packet.Bytes, verdict.Manifest!, client);
        var kinds = await server.ReadAsync(db =>
            db.OutboxMails.Where(m => m.VersionId == version).Select(m => m.Kind).ToListAsync()
        );
        Assert.Equal(["invitation", "receipt", "shop-receipt"], kinds.Order());
        client.Dispose();
    }

    /// <summary>The packet holds all that its pictures and films follow from, the art as it was sent among it.</summary>
    private async Task IsMadeAgainAsync(byte[] packet, Manifest manifest, Visitor client)
    {
        using var zip = new ZipArchive(new MemoryStream(packet));
        var art = Assert.Single(manifest.Files, f => f.Role == FileRole.Art);
        Assert.Equal("left-chest/art/original.svg", art.Path);
        Assert.Equal(Sha256Digest.Of(Encoding.UTF8.GetBytes(RunningServer.SmallMark)), art.Sha256);

        var report = await new Rerender(server.Service<ArtDecoder>(), _ => null).OfAsync(
            manifest,
            file => zip.GetEntry($"data/files/{file.Path}")!.Open(),
            new Progress<FileComparison>(),
            CancellationToken.None
        );

        Assert.True(report.IsEqual, string.Join('\n', report.Files.Where(f => !f.IsSame)));
        Assert.Equal(manifest.Plates.Length, report.Files.Count(f => f.Role == FileRole.Plate));
        Assert.Empty(report.Notes);
        using var stored = await StoredVersion.FindAsync(
            server.Service<OfficeSettings>(),
            int.Parse(manifest.Order, CultureInfo.InvariantCulture),
            manifest.Version,
            CancellationToken.None
        );
        Assert.Equal(ManifestJson.Write(manifest), ManifestJson.Write(stored.Manifest));
        using var file = new StreamReader(stored.Open(art));
        Assert.Equal(RunningServer.SmallMark, await file.ReadToEndAsync());
        // A stranger's drawing is never a page of ours.
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/f/{art.Sha256.Hex}/art.svg")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await server.Staff.GetAsync($"/f/{art.Sha256.Hex}/art.svg")).Status);
    }

    [Fact]
    public async Task Pressing_twice_is_one_decision_with_one_receipt()
    {
        var (client, review, version) = await server.InvitedClientAsync("pressed twice");
        var lastLook = await LastLookAsync(client, review);

        var first = await client.PostAsync(lastLook);
        var second = await client.PostAsync(lastLook);

        Assert.Equal(HttpStatusCode.SeeOther, second.Status);
        Assert.Equal(first.Location, second.Location);
        Assert.Equal(1, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task A_second_decision_meets_the_first()
    {
        var (client, review, _) = await server.InvitedClientAsync("decided twice");
        var one = await LastLookAsync(client, review);
        var other = await LastLookAsync(client, review);
        await client.PostAsync(one);

        var late = await client.PostAsync(other);

        Assert.Equal(HttpStatusCode.Conflict, late.Status);
        Assert.Equal("This version is already decided", late.Title);
        Assert.Contains("Kim Reed has already approved version 1", late.Text);
        client.Dispose();
    }

    [Fact]
    public async Task An_approval_of_a_version_that_was_replaced_is_stale()
    {
        var (client, review, version) = await server.InvitedClientAsync("replaced");
        var lastLook = await LastLookAsync(client, review);
        var orderId = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version).Select(v => v.OrderId).FirstAsync()
        );
        var edit = await server.Staff.GetAsync($"/orders/{orderId}/edit");
        var changed = RunningServer.OrderFields("replaced");
        changed["WidthMm"] = "42";
        await server.Staff.PostAsync(edit, changed, form: 1);
        await server.SentLinkAsync(await server.FinishedAsync(orderId));

        var late = await client.PostAsync(lastLook);
        var look = await client.GetAsync(review);

        Assert.Equal(HttpStatusCode.PreconditionFailed, late.Status);
        Assert.Equal("A newer version is out", late.Title);
        Assert.Contains("This is a newer version than the one your mail was about.", look.Text);
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.OrderId == orderId)));
        client.Dispose();
    }

    [Fact]
    public async Task An_empty_form_says_everything_that_is_missing_and_decides_nothing()
    {
        var (client, review, version) = await server.InvitedClientAsync("empty form");
        var form = await client.GetAsync(review + "/approve");

        var answer = await client.PostAsync(form);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        foreach (
            var said in new[]
            {
                "Type your name, so that the record says who decided.",
                "Tick the box about the words, or ask for changes.",
                "Tick the box about size and place, or ask for changes.",
                "Tick the box about garments and counts, or ask for changes.",
                "Tick the box about the colours, or ask for changes.",
            }
        )
            Assert.Contains(said, answer.Text);
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task The_last_look_writes_nothing()
    {
        var (client, review, _) = await server.InvitedClientAsync("only looked");
        var before = await server.CountsAsync();

        var lastLook = await LastLookAsync(client, review);

        Assert.Equal("A last look", lastLook.Title);
        Assert.Equal(before, await server.CountsAsync());
        client.Dispose();
    }

    [Fact]
    public async Task A_change_names_its_thing_and_brings_the_order_back_to_us()
    {
        var (client, review, version) = await server.InvitedClientAsync("changed");
        var form = await client.GetAsync(review + "/changes");
        var lastLook = await client.PostAsync(
            form,
            new()
            {
                ["Changes[0].Thing"] = "word: OAR 10",
                ["Changes[0].Words"] = "it should read OAR 100",
                ["Name"] = "Kim Reed",
            }
        );

        var decided = await client.PostAsync(lastLook);
        var receipt = await client.GetAsync(decided.Location!);

        Assert.Equal("Your changes are with us.", receipt.Title);
        Assert.Contains("it should read OAR 100", receipt.Text);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync(decided.Location + "/packet.zip")).Status);
        var state = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version).Select(v => v.Order!.State).FirstAsync()
        );
        Assert.Equal(OrderState.WaitingForUs, state);
        client.Dispose();
    }

    [Fact]
    public async Task Films_leave_only_from_the_approved_version()
    {
        var (client, review, version) = await server.InvitedClientAsync("films");
        var films = $"/versions/{version}/films";
        var token = (await server.Staff.GetAsync("/desk")).Forms[0].Hidden;
        var before = await server.Staff.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, films) { Content = new FormUrlEncodedContent(token) }
        );
        var refused = await server.Staff.GetAsync(films);
        await client.PostAsync(await LastLookAsync(client, review));

        var allowed = await server.Staff.GetAsync(films);
        var zip = await server.Staff.PostAsync(allowed, form: 1);

        Assert.Equal(HttpStatusCode.Conflict, before.Status);
        Assert.Contains(
            "Version 1 is not approved. Films leave when the client has said yes to what they print.",
            refused.Text
        );
        Assert.Equal("application/zip", zip.Headers["Content-Type"]);
        using var archive = new ZipArchive(new MemoryStream(zip.Bytes));
        Assert.Contains(archive.Entries, e => e.FullName.EndsWith("plates.pdf", StringComparison.Ordinal));
        Assert.Equal(2, archive.Entries.Count(e => e.FullName.EndsWith(".tif", StringComparison.Ordinal)));
        client.Dispose();
    }

    private static async Task<Page> LastLookAsync(Visitor client, string review)
    {
        var form = await client.GetAsync(review + "/approve");
        Assert.Equal(HttpStatusCode.OK, form.Status);
        return await client.PostAsync(form, AllTicked);
    }
}
