using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Web.Tests;

/// <summary>An approved version ordered again with its stored films.</summary>
[Collection(OneServer.Name)]
public sealed class ReorderTests(RunningServer server)
{
    [Fact]
    public async Task With_other_counts_the_films_are_the_stored_ones_and_the_client_is_asked_anew()
    {
        var version = await ApprovedAsync("again, more");
        var page = await server.Staff.GetAsync($"/versions/{version}/reorder");

        var made = await server.Staff.PostAsync(
            page,
            new() { ["Title"] = "again, more", ["Counts[0]"] = "30" },
            form: 1
        );

        Assert.Equal(HttpStatusCode.Redirect, made.Status);
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var repeated = await server.FinishedAsync(order);
        Assert.Equal(await DigestsAsync(version), await DigestsAsync(repeated));
        var (before, after) = (await ManifestAsync(version), await ManifestAsync(repeated));
        Assert.Equal((12, 30), (before.Lines[0].Counts[0].Pieces, after.Lines[0].Counts[0].Pieces));
        Assert.NotEqual(before.Order, after.Order);
        Assert.Equal(
            before.Plates.Select(p => (p.Path, p.CoveragePpm)),
            after.Plates.Select(p => (p.Path, p.CoveragePpm))
        );
        Assert.Contains("No films yet", (await server.Staff.GetAsync($"/versions/{repeated}/films")).Text);
        Assert.Equal(version, (await server.OrderOfAsync(repeated)).RepeatOfVersionId);
    }

    [Fact]
    public async Task With_the_same_counts_the_answer_stands()
    {
        var version = await ApprovedAsync("again, the same");
        var page = await server.Staff.GetAsync($"/versions/{version}/reorder");

        var made = await server.Staff.PostAsync(page, new() { ["Title"] = "again", ["Counts[0]"] = "12" }, form: 1);

        var id = Guid.Parse(made.Location!.Split('/')[^1]);
        var order = await server.ReadAsync(db => db.Orders.SingleAsync(o => o.Id == id));
        Assert.Equal((OrderState.ReadyToBurn, (Guid?)version), (order.State, order.RepeatOfVersionId));
        var shown = await server.Staff.GetAsync($"/orders/{id}");
        Assert.Contains("Nothing the answer binds differs, so it stands for this order too.", shown.Text);
        Assert.Contains($"/versions/{version}/films", shown.Text);
    }

    [Fact]
    public async Task What_nobody_approved_cannot_be_ordered_again()
    {
        var version = await server.RenderedVersionAsync("never approved");

        Assert.Equal(HttpStatusCode.NotFound, (await server.Staff.GetAsync($"/versions/{version}/reorder")).Status);
    }

    [Fact]
    public async Task A_sample_is_shown_through_the_same_link_and_answered_a_second_time()
    {
        var (client, review, version) = await server.InvitedClientAsync("with sample");
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var production = await server.Staff.GetAsync($"/versions/{version}/production");
        var at = production.Forms.FindIndex(f => f.Action.EndsWith("/samples", StringComparison.Ordinal));
        await server.Staff.PostAsync(production, form: at, file: ("Photo", "sample.svg", RunningServer.SmallMark));

        var look = await client.GetAsync(review);
        var photo = await client.GetAsync(review + "/sample.jpg");
        var form = await client.GetAsync(review + "/approve?sample=true");
        var decided = await client.PostAsync(await client.PostAsync(form, RunningServer.AllTicked));
        var again = await client.GetAsync(review + "/approve?sample=true");

        Assert.Contains("The printed sample", look.Text);
        Assert.Equal("image/jpeg", photo.Headers["Content-Type"]);
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        Assert.Equal(HttpStatusCode.Redirect, again.Status);
        var decisions = await server.ReadAsync(db =>
            db.Decisions.Where(d => d.VersionId == version).OrderBy(d => d.LeafIndex).ToListAsync()
        );
        Assert.Equal(["", "About the printed sample."], decisions.Select(d => d.Comment));
        Assert.Equal(
            AnswerSeat.Sample,
            await server.ReadAsync(db =>
                db.SeatsTaken.Where(s => s.DecisionId == decisions[1].Id).Select(s => s.Seat).SingleAsync()
            )
        );
        client.Dispose();
    }

    private async Task<Guid> ApprovedAsync(string title)
    {
        var (client, review, version) = await server.InvitedClientAsync(title);
        var decided = await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        client.Dispose();
        return version;
    }

    private Task<List<string>> DigestsAsync(Guid version) =>
        server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == version).OrderBy(f => f.Path).Select(f => f.Sha256).ToListAsync()
        );

    private async Task<Manifest> ManifestAsync(Guid version) =>
        ManifestJson.Parse(
            (await server.ReadAsync(db => db.ProofVersions.SingleAsync(v => v.Id == version))).ManifestBytes!
        );
}
