using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class SendUndoTests
{
    [SkippableTheory, OnBothEngines]
    public async Task A_sending_is_taken_back_whole_while_its_letter_waits(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var order = await shop.NewOrderAsync();
        var first = await shop.SentVersionAsync(order);
        shop.Time.Advance(TimeSpan.FromHours(1));
        await DeliverAsync(shop);
        var second = await shop.SentVersionAsync(order);

        var undo = await shop.Get<SendUndo>().FindAsync(second.VersionId);
        var delivered = await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None);
        var taken = await shop.Get<SendUndo>().TakeBackAsync(second.VersionId, "anna");
        shop.Time.Advance(TimeSpan.FromMinutes(1));
        var later = await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None);

        Assert.Equal(TestShop.Start.AddHours(1).AddSeconds(10), undo!.LeavesAt);
        Assert.Equal(["kit@harbour.example"], undo.Recipients);
        Assert.Equal((false, true, false), (delivered, taken, later));
        await using var db = shop.Office.Open();
        Assert.Equal(
            [(VersionState.Sent, true), (VersionState.Frozen, false)],
            (await db.ProofVersions.OrderBy(v => v.Number).ToListAsync()).Select(v => (v.State, v.SentAt is not null))
        );
        Assert.Equal(OrderState.WaitingForUs, (await db.Orders.SingleAsync()).State);
        Assert.Equal(first.InvitationId, (await db.Invitations.SingleAsync()).Id);
        Assert.Equal(first.MailId, (await db.OutboxMails.SingleAsync()).Id);
        Assert.IsType<LinkResult.Unknown>(await shop.Invitations.OpenAsync(second.Token));
        Assert.Equal("version 2 to kit@harbour.example", (await NoteAsync(db, "sending taken back")).Detail);
        // And it can be sent as if nothing had been.
        Assert.IsType<SendResult.Sent>(
            await shop.Sending.SendAsync(new(second.VersionId, [new("kit@harbour.example")], "", "anna"))
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task Once_a_letter_has_begun_to_leave_the_sending_stands(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        shop.Time.Advance(TimeSpan.FromSeconds(10));
        await DeliverAsync(shop);

        Assert.Null(await shop.Get<SendUndo>().FindAsync(proof.VersionId));
        Assert.False(await shop.Get<SendUndo>().TakeBackAsync(proof.VersionId, "anna"));
        Assert.Equal((1, 1), (await shop.CountAsync<OutboxMail>(), await shop.CountAsync<Invitation>()));
        Assert.IsType<LinkResult.Open>(await shop.Invitations.OpenAsync(proof.Token));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_further_recipient_is_taken_back_without_the_first(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        shop.Time.Advance(TimeSpan.FromMinutes(1));
        await DeliverAsync(shop);
        await shop.Sending.SendAsync(new(proof.VersionId, [new("lee@harbour.example")], "", "anna"));

        Assert.True(await shop.Get<SendUndo>().TakeBackAsync(proof.VersionId, "anna"));

        await using var db = shop.Office.Open();
        Assert.Equal(proof.InvitationId, (await db.Invitations.SingleAsync()).Id);
        Assert.Equal(VersionState.Sent, (await db.ProofVersions.SingleAsync()).State);
        Assert.Equal(OrderState.WaitingForThem, (await db.Orders.SingleAsync()).State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_hold_that_the_sending_ended_stands_again(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var order = await shop.NewOrderAsync();
        await shop.SentVersionAsync(order);
        var since = shop.Time.GetUtcNow();
        await shop.Office.WriteAsync(async db =>
        {
            var row = await db.Orders.SingleAsync();
            (row.HeldSince, row.HeldWhy) = (since, "not me: was on holiday\nflagged");
            await db.SaveChangesAsync();
        });
        shop.Time.Advance(TimeSpan.FromHours(2));
        var second = await shop.SentVersionAsync(order);

        Assert.True(await shop.Get<SendUndo>().TakeBackAsync(second.VersionId, "anna"));

        await using var read = shop.Office.Open();
        var held = await read.Orders.SingleAsync();
        Assert.Equal((since, "not me: was on holiday\nflagged"), (held.HeldSince, held.HeldWhy));
    }

    private static Task<TestShop> OpenAsync(Engine engine) =>
        TestShop.OpenAsync(engine, settings => settings.UndoSeconds = 10);

    private static async Task DeliverAsync(TestShop shop) =>
        Assert.True(await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None));

    private static Task<AuditEvent> NoteAsync(OfficeDb db, string action) =>
        db.AuditEvents.SingleAsync(row => row.Action == action);
}
