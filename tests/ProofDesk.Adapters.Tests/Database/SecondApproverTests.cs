using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class SecondApproverTests
{
    [SkippableTheory, OnBothEngines]
    public async Task Both_must_say_yes_before_films_leave_and_the_order_does_not_matter(Engine engine)
    {
        foreach (var secondFirst in new[] { true, false })
        {
            await using var shop = await TestShop.OpenAsync(engine, settings => settings.HoldMinutes = 0);
            var (proof, second) = await SentToTwoAsync(shop);
            var asSecond = TestShop.Approval(proof, "b", "Sam Second") with { InvitationId = second };
            var asFirst = TestShop.Approval(proof, "a");

            await shop.Deciding.DecideAsync(secondFirst ? asSecond : asFirst);
            var half = await shop.Releases.OfAsync(proof.VersionId);
            var halfState = await StateAsync(shop);
            await shop.Deciding.DecideAsync(secondFirst ? asFirst : asSecond);
            // The log's time runs ahead of a clock that stands still.
            shop.Time.Advance(TimeSpan.FromSeconds(1));

            if (secondFirst)
                Assert.IsType<Release.NotApproved>(half);
            else
                Assert.Equal("boss@harbour.example", Assert.IsType<Release.SecondMissing>(half).Whom);
            Assert.Equal(OrderState.WaitingForThem, halfState);
            Assert.Equal(
                "Kim Harbour and Sam Second",
                Assert.IsType<Release.Free>(await shop.Releases.OfAsync(proof.VersionId)).By
            );
            Assert.Equal(OrderState.ReadyToBurn, await StateAsync(shop));
        }
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_second_who_asks_for_changes_keeps_films_here(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine, settings => settings.HoldMinutes = 0);
        var (proof, second) = await SentToTwoAsync(shop);
        await shop.Deciding.DecideAsync(TestShop.Approval(proof, "a"));

        await shop.Deciding.DecideAsync(TestShop.Changes(proof, "b") with { InvitationId = second });

        Assert.IsType<Release.ChangesAsked>(await shop.Releases.OfAsync(proof.VersionId));
        Assert.Equal(OrderState.WaitingForUs, await StateAsync(shop));
    }

    [SkippableTheory, OnBothEngines]
    public async Task Each_seat_is_taken_once(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var (proof, second) = await SentToTwoAsync(shop);

        var results = await Task.WhenAll(
            Enumerable
                .Range(0, 20)
                .Select(at =>
                    Task.Run(() =>
                        shop.Deciding.DecideAsync(
                            TestShop.Approval(proof, $"n{at}") with
                            {
                                InvitationId = at % 2 == 0 ? second : proof.InvitationId,
                            }
                        )
                    )
                )
        );

        Assert.Equal(2, results.OfType<DecisionResult.Recorded>().Count());
        Assert.Equal(18, results.OfType<DecisionResult.AlreadyDecided>().Count());
        Assert.Equal(1, await shop.CountAsync<SeatTaken>());
        Assert.Equal(1, await shop.CountAsync<DecisionSlot>());
    }

    private static async Task<(SentProof Proof, Guid Second)> SentToTwoAsync(TestShop shop)
    {
        var order = await shop.NewOrderAsync();
        await shop.Office.WriteAsync(async db =>
        {
            (await db.Orders.SingleAsync()).SecondApprover = "boss@harbour.example";
            await db.SaveChangesAsync();
        });
        var proof = await shop.SentVersionAsync(order);
        await using var db = shop.Office.Open();
        var second = await db.Invitations.SingleAsync(row => row.Purpose == InvitationPurpose.Second);
        var mail = await db.OutboxMails.SingleAsync(row => row.Recipient == "boss@harbour.example");
        Assert.Matches(
            new Regex("Two people must say yes before it is printed; you are the second\\."),
            (await shop.Outbox.TextOfAsync(mail.Id))!
        );
        return (proof, second.Id);
    }

    private static async Task<OrderState> StateAsync(TestShop shop)
    {
        await using var db = shop.Office.Open();
        return (await db.Orders.SingleAsync()).State;
    }
}
