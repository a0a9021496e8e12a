using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class DecidingTests
{
    [SkippableTheory, OnBothEngines]
    public async Task An_approval_is_one_decision_one_slot_one_leaf_and_two_receipts(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        var result = await shop.Deciding.DecideAsync(TestShop.Approval(proof));

        var recorded = Assert.IsType<DecisionResult.Recorded>(result);
        Assert.False(recorded.Repeated);
        await using var db = shop.Office.Open();
        var decision = await db.Decisions.SingleAsync();
        Assert.Equal(
            (recorded.DecisionId, "Kim Harbour", DecisionKind.Approve),
            (decision.Id, decision.TypedName, decision.Kind)
        );
        Assert.Equal(decision.Id, (await db.DecisionSlots.SingleAsync()).DecisionId);
        var leaf = await db.LogLeaves.SingleAsync(row => row.Ref == decision.Id);
        Assert.Equal((decision.LeafIndex, decision.StatementSha256), (leaf.Index, leaf.EventSha256));
        var receipts = await db
            .OutboxMails.Where(row => row.DecisionId == decision.Id)
            .OrderBy(row => row.Kind)
            .ToListAsync();
        Assert.Equal(["receipt", "shop-receipt"], receipts.Select(mail => mail.Kind));
        Assert.Equal(["kit@harbour.example", "desk@lindhag.example"], receipts.Select(mail => mail.Recipient));
        Assert.Equal(VersionState.Decided, (await db.ProofVersions.SingleAsync()).State);
        Assert.Equal(OrderState.ReadyToBurn, (await db.Orders.SingleAsync()).State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Of_200_people_deciding_at_once_one_decides_and_the_others_are_told_who(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        var results = await Task.WhenAll(
            Enumerable
                .Range(0, 200)
                .Select(at =>
                    Task.Run(() =>
                        shop.Deciding.DecideAsync(
                            at % 2 == 0
                                ? TestShop.Approval(proof, $"nonce {at}", $"Person {at}")
                                : TestShop.Changes(proof, $"nonce {at}") with
                                {
                                    TypedName = $"Person {at}",
                                }
                        )
                    )
                )
        );

        var winner = Assert.Single(results.OfType<DecisionResult.Recorded>());
        var told = results.OfType<DecisionResult.AlreadyDecided>().ToList();
        Assert.Equal(199, told.Count);
        await using var db = shop.Office.Open();
        var decision = await db.Decisions.SingleAsync();
        Assert.Equal(winner.DecisionId, decision.Id);
        Assert.All(
            told,
            other => Assert.Equal((decision.TypedName, decision.Kind, decision.At), (other.Who, other.What, other.When))
        );
        Assert.Equal(1, await db.DecisionSlots.CountAsync());
        // Both answers within a minute through one link: the shop is asked to look, once.
        Assert.Equal(
            ["flagged", "receipt", "shop-receipt"],
            await db.OutboxMails.Where(mail => mail.DecisionId != null).Select(mail => mail.Kind).Order().ToListAsync()
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_same_form_sent_fifty_times_is_one_decision(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        var results = await Task.WhenAll(
            Enumerable
                .Range(0, 50)
                .Select(_ => Task.Run(() => shop.Deciding.DecideAsync(TestShop.Approval(proof, "one form"))))
        );

        var recorded = results.Cast<DecisionResult.Recorded>().ToList();
        Assert.Single(recorded.Select(result => result.DecisionId).Distinct());
        Assert.Single(recorded, result => !result.Repeated);
        Assert.Equal(1, await shop.CountAsync<Decision>());
    }

    [SkippableTheory, OnBothEngines]
    public async Task Every_broken_step_leaves_nothing_and_the_next_try_decides(Engine engine)
    {
        string[] points =
        [
            "deciding.before-leaf",
            "deciding.after-leaf",
            "deciding.after-decision",
            "deciding.after-slot",
            "deciding.after-mail",
        ];
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var before = await StateAsync(shop);

        foreach (var point in points)
        {
            var reached = false;
            Fault.OnPoint = name =>
            {
                if (name == point)
                {
                    reached = true;
                    throw new IOException($"broken at {name}");
                }
            };
            await Assert.ThrowsAsync<IOException>(() => shop.Deciding.DecideAsync(TestShop.Approval(proof)));
            Fault.OnPoint = null;

            Assert.True(reached, point);
            Assert.Equal(before, await StateAsync(shop));
        }
        Assert.False(
            Assert.IsType<DecisionResult.Recorded>(await shop.Deciding.DecideAsync(TestShop.Approval(proof))).Repeated
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_decision_on_a_version_that_was_replaced_is_stale(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var order = await shop.NewOrderAsync();
        var first = await shop.SentVersionAsync(order);
        await shop.SentVersionAsync(order);

        var result = await shop.Deciding.DecideAsync(TestShop.Approval(first));

        Assert.Equal(2, Assert.IsType<DecisionResult.Stale>(result).NewestNumber);
        Assert.Equal(0, await shop.CountAsync<Decision>());
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_expired_link_cannot_approve(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        shop.Time.Advance(TimeSpan.FromDays(30));

        var result = await shop.Deciding.DecideAsync(TestShop.Approval(proof));

        Assert.Equal(new DecisionResult.LinkGone(Revoked: false, TestShop.Start.AddDays(30)), result);
        Assert.Equal(0, await shop.CountAsync<Decision>());
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_revoked_link_cannot_approve(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        await shop.Sending.RevokeAsync(proof.InvitationId, "anna");

        var result = await shop.Deciding.DecideAsync(TestShop.Approval(proof));

        Assert.Equal(new DecisionResult.LinkGone(Revoked: true, TestShop.Start), result);
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_empty_form_is_answered_with_everything_it_lacks(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var empty = TestShop.Approval(proof) with { TypedName = " ", Confirmed = Confirmations.None };

        var result = await shop.Deciding.DecideAsync(empty);

        Assert.Equal(
            [
                "name-empty",
                "words-unconfirmed",
                "size-and-place-unconfirmed",
                "garments-unconfirmed",
                "colours-unconfirmed",
            ],
            Assert.IsType<DecisionResult.Incomplete>(result).Refusals.Select(refusal => refusal.Code)
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_approval_can_be_taken_back_within_the_hold_and_then_decided_anew(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var first = Assert.IsType<DecisionResult.Recorded>(
            await shop.Deciding.DecideAsync(TestShop.Approval(proof, "a"))
        );
        shop.Time.Advance(TimeSpan.FromMinutes(9));

        var taken = await shop.Deciding.DecideAsync(Withdrawal(proof, first.DecisionId));
        var second = await shop.Deciding.DecideAsync(TestShop.Changes(proof, "c"));

        Assert.IsType<DecisionResult.Recorded>(taken);
        var standing = Assert.IsType<DecisionResult.Recorded>(second).DecisionId;
        await using var db = shop.Office.Open();
        Assert.Equal(3, await db.Decisions.CountAsync());
        Assert.Equal(standing, (await db.DecisionSlots.SingleAsync()).DecisionId);
        Assert.Equal(OrderState.WaitingForUs, (await db.Orders.SingleAsync()).State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task After_the_hold_an_approval_stays_and_its_films_are_released(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var first = Assert.IsType<DecisionResult.Recorded>(
            await shop.Deciding.DecideAsync(TestShop.Approval(proof, "a"))
        );
        Assert.IsType<Release.WithinHold>(await shop.Releases.OfAsync(proof.VersionId));
        shop.Time.Advance(TimeSpan.FromMinutes(11));

        var taken = await shop.Deciding.DecideAsync(Withdrawal(proof, first.DecisionId));

        Assert.Equal("hold-ended", Assert.Single(Assert.IsType<DecisionResult.Incomplete>(taken).Refusals).Code);
        Assert.IsType<Release.Free>(await shop.Releases.OfAsync(proof.VersionId));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_decision_told_by_telephone_carries_its_own_level(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        var result = await shop.Deciding.RecordElsewhereAsync(
            new ElsewhereRequest(
                proof.VersionId,
                DecisionKind.Approve,
                "t1",
                "Kim Harbour",
                "anna",
                "telephone",
                TestShop.Start,
                []
            )
        );

        var record = await shop.Records.FindAsync(Assert.IsType<DecisionResult.Recorded>(result).DecisionId);
        Assert.Equal(EvidenceLevel.GivenElsewhere, record!.Decision.EvidenceLevel);
        Assert.Equal("anna", record.Statement.Evidence.Elsewhere!.Staff);
        Assert.Null(record.Decision.InvitationId);
    }

    private static DecisionRequest Withdrawal(SentProof proof, Guid decision) =>
        TestShop.Approval(proof, "w") with
        {
            Kind = DecisionKind.Withdraw,
            Confirmed = Confirmations.None,
            Withdraws = decision,
        };

    private static async Task<string> StateAsync(TestShop shop)
    {
        await using var db = shop.Office.Open();
        var head = await db.LogHeads.SingleAsync();
        return string.Join(
            ' ',
            await db.Decisions.CountAsync(),
            await db.DecisionSlots.CountAsync(),
            await db.LogLeaves.CountAsync(),
            await db.LogCheckpoints.CountAsync(),
            await db.OutboxMails.CountAsync(),
            head.Size,
            (await db.ProofVersions.SingleAsync()).State,
            (await db.Orders.SingleAsync()).State
        );
    }
}
