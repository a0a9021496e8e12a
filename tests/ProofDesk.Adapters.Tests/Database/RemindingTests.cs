using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class RemindingTests
{
    [SkippableTheory, OnBothEngines]
    public async Task Three_reminders_leave_as_many_days_apart_and_no_fourth(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await RuleAsync(shop, 3);
        await shop.SentVersionAsync();
        var sent = new List<int>();

        for (var day = 1; day <= 14; day++)
        {
            shop.Time.Advance(TimeSpan.FromDays(1));
            sent.Add(await shop.Get<Reminding>().RunAsync());
        }

        Assert.Equal([0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 0, 0, 0, 0], sent);
        await using var db = shop.Office.Open();
        Assert.Equal(3, await db.OutboxMails.CountAsync(mail => mail.Kind == "reminder"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_answer_ends_them_and_so_does_no_rule(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        shop.Time.Advance(TimeSpan.FromDays(5));

        var withoutRule = await shop.Get<Reminding>().RunAsync();
        await RuleAsync(shop, 3);
        await shop.Deciding.DecideAsync(TestShop.Approval(proof));
        var answered = await shop.Get<Reminding>().RunAsync();

        Assert.Equal((0, 0), (withoutRule, answered));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_reminder_brings_a_link_that_opens_the_proof_and_one_that_stops_them(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await RuleAsync(shop, 3);
        await shop.SentVersionAsync();
        shop.Time.Advance(TimeSpan.FromDays(3));
        await shop.Get<Reminding>().RunAsync();
        await using var db = shop.Office.Open();
        var mail = await db.OutboxMails.SingleAsync(row => row.Kind == "reminder");
        var text = (await shop.Outbox.TextOfAsync(mail.Id))!;
        var token = Regex.Match(text, "/r/([A-Za-z0-9_-]+)\n").Groups[1].Value;

        var opened = await shop.Invitations.OpenAsync(token);
        await shop.Get<Reminding>().StopAsync(Assert.IsType<LinkResult.Open>(opened).InvitationId);
        shop.Time.Advance(TimeSpan.FromDays(3));

        Assert.Contains($"/r/{token}/reminders\n", text);
        Assert.Equal(0, await shop.Get<Reminding>().RunAsync());
    }

    private static Task RuleAsync(TestShop shop, int days) =>
        shop.Office.WriteAsync(async db =>
        {
            (await db.Shop.SingleAsync()).RemindAfterDays = days;
            await db.SaveChangesAsync();
        });
}
