using Microsoft.EntityFrameworkCore;
using MimeKit;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Database;

namespace ProofDesk.Adapters.Tests.Mail;

public sealed class PickupTests
{
    private static readonly CancellationToken None = CancellationToken.None;

    [SkippableTheory, OnBothEngines]
    public async Task A_mail_becomes_exactly_one_file_also_when_the_mark_was_lost(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var runner = shop.Get<OutboxRunner>();
        Assert.True(await runner.RunOneAsync("one", None));
        var path = shop.Get<PickupFolder>().PathOf(proof.MailId);
        var first = await File.ReadAllBytesAsync(path);

        // The process died after the rename and before the row was marked: the row is due again.
        await shop.Office.WriteAsync(async db =>
        {
            var mail = await db.OutboxMails.SingleAsync();
            mail.State = MailState.Waiting;
            mail.SealedMime = shop.Get<Sealing>().Seal(first);
            await db.SaveChangesAsync();
        });
        Assert.True(await runner.RunOneAsync("two", None));

        Assert.Equal([path], Directory.GetFiles(shop.Folder.Pickup, "*", SearchOption.AllDirectories));
        Assert.Equal(first, await File.ReadAllBytesAsync(path));
        Assert.False(await runner.RunOneAsync("three", None));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_restart_sends_what_was_committed_and_not_sent(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        await shop.Deciding.DecideAsync(TestShop.Approval(proof));

        await shop.RestartAsync();
        var runner = shop.Get<OutboxRunner>();
        while (await runner.RunOneAsync("next", None)) { }

        Assert.Equal(3, Directory.GetFiles(Path.Combine(shop.Folder.Pickup, "new")).Length);
        Assert.All(await shop.Outbox.ListAsync(null), mail => Assert.Equal(MailState.Sent, mail.State));
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_desk_shows_the_text_that_went_out_with_its_link_and_the_row_keeps_no_bytes(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        var before = await shop.Outbox.TextOfAsync(proof.MailId);

        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        Assert.Equal(before, await shop.Outbox.TextOfAsync(proof.MailId));
        Assert.Contains($"https://proofs.lindhag.example/r/{proof.Token}\n", before, StringComparison.Ordinal);
        await using var db = shop.Office.Open();
        Assert.Null((await db.OutboxMails.SingleAsync()).SealedMime);
        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal((MailState.Sent, 1, "written to the pickup folder"), (card.State, card.Attempts, card.LastReply));
    }

    [Fact]
    public async Task The_message_names_no_machine_threads_by_order_and_says_text_first()
    {
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings => settings.Mail.MessageIdDomain = "lindhag.example"
        );
        var order = await shop.NewOrderAsync();
        var proof = await shop.SentVersionAsync(order);
        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        var path = shop.Get<PickupFolder>().PathOf(proof.MailId);
        using var message = await MimeMessage.LoadAsync(path);

        Assert.Equal($"{proof.MailId}@lindhag.example", message.MessageId);
        Assert.Equal([$"order-{order}@lindhag.example"], message.References);
        Assert.Equal("auto-generated", message.Headers[HeaderId.AutoSubmitted]);
        Assert.Equal("desk@lindhag.example", Assert.Single(message.ReplyTo.Mailboxes).Address);
        Assert.Equal(TestShop.Start, message.Date);
        Assert.Equal(["text/plain", "text/html"], ((Multipart)message.Body!).Select(part => part.ContentType.MimeType));
        var raw = await File.ReadAllTextAsync(path);
        Assert.DoesNotContain(Environment.MachineName, raw, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(raw.Count(character => character == '\n'), raw.Split("\r\n").Length - 1);
        Assert.All(raw.Split("\r\n"), line => Assert.True(line.Length <= 998));
    }

    [Fact]
    public async Task A_receipt_carries_the_proof_that_its_decision_is_in_the_log()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));
        while (await shop.Get<OutboxRunner>().RunOneAsync("one", None)) { }
        var receipt = (await shop.Outbox.ListAsync(null)).Single(mail => mail.Kind == "receipt");

        using var message = await MimeMessage.LoadAsync(shop.Get<PickupFolder>().PathOf(receipt.Id));

        var part = Assert.IsType<TextPart>(Assert.Single(message.Attachments));
        Assert.Equal("decision-1001-1.tlog-proof", part.FileName);
        var proof = Approvals.Log.TlogProof.Parse(part.Text.ReplaceLineEndings("\n"));
        await using var db = shop.Office.Open();
        var leaf = await db.LogLeaves.SingleAsync(row => row.Index == proof.Index);
        var head = proof.Verify(leaf.LeafHash, [Approvals.Log.VerifierKey.Parse(shop.Log.VerifierKey)]);
        Assert.Equal(2, head.Size);
        Assert.Equal("You approved version 1 of 1001 Regatta tee", message.Subject);
    }
}
