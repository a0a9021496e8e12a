using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class DisputeTests
{
    [SkippableTheory, OnBothEngines]
    public async Task Twenty_presses_at_once_are_one_dispute_one_leaf_and_one_mail(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var decision = await ApprovedAsync(shop);

        await Task.WhenAll(Enumerable.Range(0, 20).Select(at => shop.Disputes.DisputeAsync(decision, $"words {at}")));

        await using var db = shop.Office.Open();
        var said = await db.LoggedEvents.SingleAsync();
        Assert.Equal((EventKind.Disputed, (Guid?)decision), (said.Kind, said.SubjectId));
        Assert.Equal(said.EventSha256, (await db.LogLeaves.SingleAsync(leaf => leaf.Ref == said.Id)).EventSha256);
        Assert.Equal(1, await db.OutboxMails.CountAsync(mail => mail.Kind == "disputed"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task While_it_is_open_nothing_is_released_and_settled_it_is(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine, settings => settings.HoldMinutes = 0);
        var decision = await ApprovedAsync(shop);
        await shop.Disputes.DisputeAsync(decision, "");
        await using var db = shop.Office.Open();
        var version = await db.ProofVersions.SingleAsync();

        // The log's time runs ahead of a clock that stands still.
        shop.Time.Advance(TimeSpan.FromSeconds(1));
        var held = await shop.Releases.OfAsync(version.Id);
        var settled = await shop.Disputes.SettleAsync(version.OrderId, true, "spoke with Kim", "anna");
        var again = await shop.Disputes.SettleAsync(version.OrderId, true, "once more", "anna");

        Assert.Equal(
            "somebody who was mailed the receipt says that the answer was not theirs",
            Assert.IsType<Release.Held>(held).Why
        );
        Assert.True(settled);
        Assert.False(again);
        Assert.Equal("Kim Harbour", Assert.IsType<Release.Free>(await shop.Releases.OfAsync(version.Id)).By);
        Assert.Equal(
            [EventKind.Disputed, EventKind.DisputeSettled],
            await db.LoggedEvents.OrderBy(row => row.LeafIndex).Select(row => row.Kind).ToListAsync()
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_link_of_a_receipt_is_for_its_decision_and_for_nothing_else(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var decision = await ApprovedAsync(shop);
        await using var db = shop.Office.Open();
        var link = await db.Invitations.SingleAsync(row => row.Purpose == InvitationPurpose.Dispute);

        var about = await shop.Disputes.FindAsync(link.Id);
        var review = await shop.Invitations.ReviewAsync(link.Id);
        var manifest = (await db.ProofVersions.SingleAsync()).ManifestSha256!;
        var decided = await shop.Deciding.DecideAsync(
            new DecisionRequest(link.Id, DecisionKind.Approve, manifest, "x", "Kim", "en", Confirmations.All, [])
        );

        Assert.Equal(decision, about!.Decision.Id);
        Assert.Null(review);
        Assert.IsType<DecisionResult.Unknown>(decided);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Signs_of_a_machine_are_kept_with_the_answer_and_hold_production(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine, settings => settings.HoldMinutes = 0);
        var proof = await shop.SentVersionAsync();

        var result = await shop.Deciding.DecideAsync(
            TestShop.Approval(proof) with
            {
                Signs = [RobotSigns.TooQuick, RobotSigns.HiddenField],
            }
        );

        Assert.IsType<DecisionResult.Recorded>(result);
        await using var db = shop.Office.Open();
        Assert.Equal("too-quick hidden-field", (await db.Decisions.SingleAsync()).Flags);
        Assert.Equal(EventKind.Flagged, (await db.LoggedEvents.SingleAsync()).Kind);
        Assert.Equal(
            "the answer looks like a machine's: it came sooner than anybody reads the page; a field was filled that people do not see",
            Assert.IsType<Release.Held>(await shop.Releases.OfAsync(proof.VersionId)).Why
        );
        Assert.Equal(await db.LogLeaves.LongCountAsync(), (await db.LogHeads.SingleAsync()).Size);
    }

    private static async Task<Guid> ApprovedAsync(TestShop shop)
    {
        var proof = await shop.SentVersionAsync();
        return Assert
            .IsType<DecisionResult.Recorded>(await shop.Deciding.DecideAsync(TestShop.Approval(proof)))
            .DecisionId;
    }
}
