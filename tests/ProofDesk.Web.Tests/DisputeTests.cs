using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Tests;

/// <summary>"This was not me" (S10), and approvals with words beside them (S8).</summary>
[Collection(OneServer.Name)]
public sealed class DisputeTests(RunningServer server)
{
    [Fact]
    public async Task The_receipts_own_link_stops_production_and_staff_settle_it()
    {
        var (client, review, version) = await server.InvitedClientAsync("not me");
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var receipt = await server.LetterAsync(version, "receipt");
        using var reader = new Visitor(server);

        var opened = await reader.GetAsync(RunningServer.LinkIn(receipt));
        var page = await reader.GetAsync(opened.Location!);
        var before = (await server.OrderOfAsync(version)).HeldSince;
        var said = await reader.PostAsync(page, new() { ["words"] = "I was on holiday" });
        await reader.PostAsync(page, new() { ["words"] = "pressed twice" });
        var after = await reader.GetAsync(said.Location!);

        Assert.Contains("This was not me:\n", receipt);
        Assert.StartsWith("/dispute/", opened.Location);
        Assert.Null(before);
        Assert.Equal(HttpStatusCode.SeeOther, said.Status);
        Assert.Equal("Production stands still.", after.Title);
        var disputed = await server.ReadAsync(db =>
            db.LoggedEvents.SingleAsync(e => e.VersionId == version && e.Kind == EventKind.Disputed)
        );
        Assert.Equal("I was on holiday", EventJson.Parse(disputed.EventBytes).Facts["words"]);
        Assert.Contains("STOP", (await SubjectAsync(version, "disputed")));
        Assert.Contains("No films yet", (await server.Staff.GetAsync($"/versions/{version}/films")).Text);

        var order = await server.OrderOfAsync(version);
        var orderPage = await server.Staff.GetAsync($"/orders/{order.Id}");
        var at = orderPage.Forms.FindIndex(f => f.Action.EndsWith("/settlement", StringComparison.Ordinal));
        await server.Staff.PostAsync(
            orderPage,
            new() { ["outcome"] = "stands", ["words"] = "a colleague had answered for her; she agrees" },
            form: at
        );

        var settled = await server.ReadAsync(db =>
            db.LoggedEvents.SingleAsync(e => e.VersionId == version && e.Kind == EventKind.DisputeSettled)
        );
        Assert.Equal(disputed.SubjectId, settled.SubjectId);
        Assert.Equal(OrderState.ReadyToBurn, (await server.OrderOfAsync(version)).State);
        Assert.Contains("Take the films", (await server.Staff.GetAsync($"/versions/{version}/films")).Text);
        client.Dispose();
    }

    [Fact]
    public async Task An_answer_that_does_not_count_keeps_films_until_a_new_version_is_out()
    {
        var (client, review, version) = await server.InvitedClientAsync("does not count");
        var decided = await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var receipt = await client.GetAsync(decided.Location!);
        var at = receipt.Forms.FindIndex(f => f.Action.EndsWith("/dispute", StringComparison.Ordinal));
        await client.PostAsync(receipt, form: at);
        var order = await server.OrderOfAsync(version);
        var page = await server.Staff.GetAsync($"/orders/{order.Id}");
        var settle = page.Forms.FindIndex(f => f.Action.EndsWith("/settlement", StringComparison.Ordinal));

        await server.Staff.PostAsync(
            page,
            new() { ["outcome"] = "void", ["words"] = "nobody there knows who it was" },
            form: settle
        );

        Assert.NotNull((await server.OrderOfAsync(version)).HeldSince);
        Assert.Contains("No films yet", (await server.Staff.GetAsync($"/versions/{version}/films")).Text);
        var edit = await server.Staff.GetAsync($"/orders/{order.Id}/edit");
        var changed = RunningServer.OrderFields("does not count");
        changed["WidthMm"] = "42";
        await server.Staff.PostAsync(edit, changed, form: 1);
        await server.SentLinkAsync(await server.FinishedAsync(order.Id));
        Assert.Null((await server.OrderOfAsync(version)).HeldSince);
        client.Dispose();
    }

    [Fact]
    public async Task The_link_of_a_receipt_opens_no_proof_and_decides_nothing()
    {
        var (client, review, version) = await server.InvitedClientAsync("receipt link");
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        using var reader = new Visitor(server);
        var opened = await reader.GetAsync(RunningServer.LinkIn(await server.LetterAsync(version, "receipt")));

        var proof = await reader.GetAsync(opened.Location!.Replace("/dispute/", "/review/"));
        var form = await reader.GetAsync(opened.Location!.Replace("/dispute/", "/review/") + "/approve");

        Assert.Equal(HttpStatusCode.NotFound, proof.Status);
        Assert.Equal(HttpStatusCode.NotFound, form.Status);
        client.Dispose();
    }

    [Fact]
    public async Task Words_beside_an_approval_must_be_called_remark_or_change()
    {
        var (client, review, version) = await server.InvitedClientAsync("conditions");
        var undecided = await RunningServer.LastLookAsync(client, review, new() { ["Comment"] = "but in navy" });
        var unnamed = await RunningServer.LastLookAsync(
            client,
            review,
            new() { ["Comment"] = "but in navy", ["Means"] = "change" }
        );
        var change = await RunningServer.LastLookAsync(
            client,
            review,
            new()
            {
                ["Comment"] = "but in navy",
                ["Means"] = "change",
                ["MeansThing"] = "order",
            }
        );

        await client.PostAsync(change);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, undecided.Status);
        Assert.Contains("Say whether it is only a remark or a change", undecided.Text);
        Assert.Contains("Choose which thing your words mean.", unnamed.Text);
        var decision = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        var said = Approvals.Decisions.StatementJson.Parse(decision.StatementBytes);
        Assert.Equal(Approvals.Decisions.DecisionKind.Changes, said.Kind);
        Assert.Equal(new Approvals.Decisions.ChangeRequest("order", "but in navy"), Assert.Single(said.Changes));
        client.Dispose();
    }

    [Fact]
    public async Task A_remark_goes_with_the_approval_and_stands_on_the_record()
    {
        var (client, review, version) = await server.InvitedClientAsync("remark");
        var lastLook = await RunningServer.LastLookAsync(
            client,
            review,
            new() { ["Comment"] = "thank you for the quick work", ["Means"] = "remark" }
        );

        await client.PostAsync(lastLook);

        var decision = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        Assert.Equal(Approvals.Decisions.DecisionKind.Approve, decision.Kind);
        Assert.Contains("thank you for the quick work", (await server.Staff.GetAsync($"/records/{decision.Id}")).Text);
        client.Dispose();
    }

    private Task<string> SubjectAsync(Guid version, string kind) =>
        server.ReadAsync(db =>
            db.OutboxMails.Where(m => m.VersionId == version && m.Kind == kind).Select(m => m.Subject).SingleAsync()
        );
}
