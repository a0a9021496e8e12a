using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Tests;

/// <summary>A server where an approval can be taken back for ten minutes.</summary>
public sealed class HoldingServer : RunningServer
{
    protected override IEnumerable<string> Settings => ["--Office:HoldMinutes=10"];
}

public sealed class TakenBackTests(HoldingServer server) : IClassFixture<HoldingServer>
{
    [Fact]
    public async Task An_approval_is_taken_back_within_the_hold_and_can_be_given_again()
    {
        var (client, review, version) = await server.InvitedClientAsync("taken back");
        var approved = await ApproveAsync(client, review);
        var receipt = await client.GetAsync(approved);

        var nameless = await client.PostAsync(receipt);
        var taken = await client.PostAsync(receipt, new() { ["name"] = "Kim Reed" });
        var after = await client.GetAsync(taken.Location!);
        var old = await client.GetAsync(approved);
        await ApproveAsync(client, review);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, nameless.Status);
        Assert.Contains("Type your name, so that the record says who decided.", nameless.Text);
        Assert.Equal(HttpStatusCode.SeeOther, taken.Status);
        Assert.Equal("Your answer is taken back.", after.Title);
        Assert.Contains("This answer was taken back afterwards and does not stand any more.", old.Text);
        var kinds = await server.ReadAsync(db =>
            db.Decisions.Where(d => d.VersionId == version).OrderBy(d => d.LeafIndex).Select(d => d.Kind).ToListAsync()
        );
        Assert.Equal([DecisionKind.Approve, DecisionKind.Withdraw, DecisionKind.Approve], kinds);
        client.Dispose();
    }

    private static async Task<string> ApproveAsync(Visitor client, string review)
    {
        var lastLook = await client.PostAsync(
            await client.GetAsync(review + "/approve"),
            new()
            {
                ["Words"] = "true",
                ["Size"] = "true",
                ["Garments"] = "true",
                ["Colours"] = "true",
                ["Name"] = "Kim Reed",
            }
        );
        var decided = await client.PostAsync(lastLook);
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        return decided.Location!;
    }
}
