using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class TrackingTests
{
    [SkippableTheory, OnBothEngines]
    public async Task One_person_is_followed_from_the_letter_to_the_answer(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var waiting = Assert.Single(await shop.Get<Tracking>().OfAsync(proof.VersionId));
        await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None);
        await shop.Invitations.CountViewAsync(proof.InvitationId, proof.VersionId);
        await shop.Invitations.CountViewAsync(proof.InvitationId, proof.VersionId);
        shop.Time.Advance(TimeSpan.FromDays(3));
        await shop.Get<Reminding>().RunAsync();
        var reminded = Assert.Single(await shop.Get<Tracking>().OfAsync(proof.VersionId));
        await shop.Deciding.DecideAsync(TestShop.Approval(proof));
        var decided = Assert.Single(await shop.Get<Tracking>().OfAsync(proof.VersionId));

        Assert.Equal(MailState.Waiting, Assert.Single(waiting.Letters).State);
        Assert.Equal((null, TestShop.Start.AddDays(3), true), (waiting.Views, waiting.NextReminder, waiting.MayHurry));
        Assert.Equal(["invitation", "reminder"], reminded.Letters.Select(letter => letter.Kind));
        Assert.Equal(MailState.Sent, reminded.Letters[0].State);
        Assert.Equal(2, reminded.Views!.Count);
        Assert.Equal([TestShop.Start.AddDays(3)], reminded.Reminders);
        Assert.Equal(TestShop.Start.AddDays(6), reminded.NextReminder);
        var answer = Assert.Single(decided.Answers);
        Assert.Equal((DecisionKind.Approve, "Kim Harbour", true), (answer.Kind, answer.By, answer.Stands));
        Assert.Equal((null, false), (decided.NextReminder, decided.MayHurry));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_reminder_is_hurried_three_times_and_stopped_for_good(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var reminding = shop.Get<Reminding>();
        var hurried = new List<bool>();
        for (var i = 0; i < 4; i++)
        {
            hurried.Add(await reminding.HurryAsync(proof.InvitationId, "anna"));
        }
        var other = await shop.SentVersionAsync();
        await reminding.StopAsync(other.InvitationId, "anna");

        Assert.Equal([true, true, true, false], hurried);
        Assert.False(await reminding.HurryAsync(other.InvitationId, "anna"));
        Assert.False(await reminding.HurryAsync(Guid.NewGuid(), "anna"));
        var stopped = Assert.Single(await shop.Get<Tracking>().OfAsync(other.VersionId));
        Assert.Equal((true, null, false), (stopped.Stopped, stopped.NextReminder, stopped.MayHurry));
        shop.Time.Advance(TimeSpan.FromDays(20));
        Assert.Equal(0, await reminding.RunAsync());
        await using var db = shop.Office.Open();
        Assert.Equal("anna", (await db.AuditEvents.SingleAsync(row => row.Action == "reminders stopped")).Actor);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_letter_that_came_back_says_what_the_mail_system_said(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        await shop.Office.WriteAsync(async db =>
        {
            (await db.OutboxMails.SingleAsync()).State = MailState.Bounced;
            db.MailReturns.Add(
                new MailReturn
                {
                    ReportId = "r1",
                    MailId = proof.MailId,
                    Action = "failed",
                    Status = "5.1.1",
                    Diagnostic = "no such user",
                }
            );
            await db.SaveChangesAsync();
        });

        var letter = (await shop.Get<Tracking>().OfAsync(proof.VersionId))[0].Letters[0];

        Assert.Equal((MailState.Bounced, "failed 5.1.1 no such user"), (letter.State, letter.Returned));
    }

    [Theory]
    [InlineData(3, null, 3)] // the rule
    [InlineData(3, 10, 3)] // well before the day
    [InlineData(7, 5, 4)] // pulled to the day before
    [InlineData(3, 3, 2)] // exactly on the day is too late
    [InlineData(3, 1, 3)] // less than a day after the last letter: as the rule says
    [InlineData(0, 5, null)] // no rule
    public void A_reminder_comes_before_the_day_of_the_answer(int everyDays, int? approveInDays, int? expectedInDays)
    {
        var last = new DateTimeOffset(2026, 11, 24, 0, 0, 0, TimeSpan.Zero);
        DateOnly? approveBy = approveInDays is { } days ? new DateOnly(2026, 11, 24).AddDays(days) : null;

        Assert.Equal(
            expectedInDays is { } expected ? last.AddDays(expected) : null,
            ReminderTimes.Next(last, 0, everyDays, approveBy)
        );
        Assert.Null(ReminderTimes.Next(last, Reminder.Most, everyDays, approveBy));
    }

    private static async Task<TestShop> OpenAsync(Engine engine)
    {
        var shop = await TestShop.OpenAsync(engine);
        await shop.Office.WriteAsync(async db =>
        {
            (await db.Shop.SingleAsync()).RemindAfterDays = 3;
            await db.SaveChangesAsync();
        });
        return shop;
    }
}
