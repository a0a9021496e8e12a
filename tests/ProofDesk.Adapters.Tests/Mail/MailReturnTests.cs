using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Database;

namespace ProofDesk.Adapters.Tests.Mail;

public sealed class MailReturnTests
{
    [SkippableTheory, OnBothEngines]
    public async Task A_report_of_failure_marks_the_letter_and_its_order_once(Engine engine)
    {
        await using var shop = await OpenAsync(engine);
        var proof = await SentAsync(shop);
        Put(shop, "1.eml", Report(proof.MailId, "failed", "5.1.1"));
        Put(shop, "2.eml", Report(proof.MailId, "failed", "5.1.1"));

        Assert.Equal(1, await shop.Get<MailReturns>().ReadAllAsync());

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal(
            (MailState.Bounced, "came back failed: 5.1.1 smtp; 550 5.1.1 no such user here"),
            (card.State, card.LastReply)
        );
        Assert.True(Assert.Single(await shop.Orders.ListAsync(OrderState.WaitingForThem)).MailTrouble);
        Assert.Equal(1, await shop.CountAsync<MailReturn>());
        Assert.Equal(2, Directory.GetFiles(Path.Combine(Folder(shop), "read")).Length);
        Assert.Empty(Directory.GetFiles(Folder(shop)));
    }

    [Fact]
    public async Task A_report_without_our_envelope_id_is_matched_by_the_returned_headers()
    {
        await using var shop = await OpenAsync(Engine.Sqlite);
        var proof = await SentAsync(shop);
        Put(
            shop,
            "1.eml",
            Report(proof.MailId, "failed", "5.2.2")
                .Replace("Original-Envelope-Id", "X-Nothing", StringComparison.Ordinal)
        );

        await shop.Get<MailReturns>().ReadAllAsync();

        Assert.Equal(MailState.Bounced, Assert.Single(await shop.Outbox.ListAsync(null)).State);
    }

    [Theory]
    [InlineData("delayed", MailState.Sent, "came back delayed: 5.1.1 smtp; 550 5.1.1 no such user here")]
    [InlineData("delivered", MailState.Sent, "written to the pickup folder")]
    public async Task Other_reports_change_no_state(string action, MailState state, string reply)
    {
        await using var shop = await OpenAsync(Engine.Sqlite);
        var proof = await SentAsync(shop);
        Put(shop, "1.eml", Report(proof.MailId, action, "5.1.1"));

        await shop.Get<MailReturns>().ReadAllAsync();

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal((state, reply), (card.State, card.LastReply));
    }

    [Fact]
    public async Task A_report_about_another_address_marks_nothing()
    {
        await using var shop = await OpenAsync(Engine.Sqlite);
        var proof = await SentAsync(shop);
        Put(
            shop,
            "1.eml",
            Report(proof.MailId, "failed", "5.1.1")
                .Replace("kit@harbour.example", "else@harbour.example", StringComparison.Ordinal)
        );

        Assert.Equal(0, await shop.Get<MailReturns>().ReadAllAsync());

        Assert.Equal(MailState.Sent, Assert.Single(await shop.Outbox.ListAsync(null)).State);
    }

    [Theory]
    [InlineData("From: a@b.example\r\nAuto-Submitted: auto-replied\r\nSubject: away\r\n\r\nI am on holiday.\r\n")]
    [InlineData("\0\0\0")]
    [InlineData("")]
    public async Task What_is_no_report_is_put_aside_and_not_answered(string text)
    {
        await using var shop = await OpenAsync(Engine.Sqlite);
        await SentAsync(shop);
        Put(shop, "1.eml", text);

        Assert.Equal(0, await shop.Get<MailReturns>().ReadAllAsync());

        Assert.Single(Directory.GetFiles(Path.Combine(Folder(shop), "other")));
        Assert.Equal(1, await shop.CountAsync<OutboxMail>());
    }

    [Fact]
    public async Task One_person_causes_so_many_letters_a_day_and_no_more()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.Office.WriteAsync(async db =>
        {
            (await db.Shop.SingleAsync()).MailsPerDay = 2;
            await db.SaveChangesAsync();
        });
        var first = await shop.SentVersionAsync();
        var request = new SendRequest(
            first.VersionId,
            [new LinkRecipient("one@harbour.example"), new LinkRecipient("two@harbour.example")],
            "",
            "anna"
        );

        var refused = await shop.Sending.SendAsync(request);
        var byOther = await shop.Sending.SendAsync(request with { Actor = "ben" });
        shop.Time.Advance(TimeSpan.FromHours(25));
        var nextDay = await shop.Sending.SendAsync(request);

        Assert.Equal(
            "anna caused 1 letters in the last 24 hours, 2 more would pass the 2 a day that one person may cause; "
                + "wait, or ask the owner to raise the number",
            Assert.Single(Assert.IsType<SendResult.Unusable>(refused).Problems)
        );
        Assert.IsType<SendResult.Sent>(byOther);
        Assert.IsType<SendResult.Sent>(nextDay);
    }

    private static async Task<SentProof> SentAsync(TestShop shop)
    {
        var proof = await shop.SentVersionAsync();
        await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None);
        return proof;
    }

    private static async Task<TestShop> OpenAsync(Engine engine) =>
        await TestShop.OpenAsync(
            engine,
            settings =>
                settings.Mail.ReturnsFolder = Directory
                    .CreateDirectory(Path.Combine(settings.DataFolder, "returns"))
                    .FullName
        );

    private static string Folder(TestShop shop) => shop.Settings.Mail.ReturnsFolder;

    private static void Put(TestShop shop, string name, string text) =>
        File.WriteAllText(Path.Combine(Folder(shop), name), text.ReplaceLineEndings("\r\n"));

    // After the example in RFC 3464 appendix.
    private static string Report(Guid mail, string action, string status) =>
        $"""
            From: Mail System <postmaster@mx.example>
            To: <proofs@lindhag.example>
            Subject: undelivered
            Message-ID: <report-7@mx.example>
            MIME-Version: 1.0
            Content-Type: multipart/report; report-type=delivery-status; boundary="b"

            --b
            Content-Type: text/plain

            It could not be delivered.
            --b
            Content-Type: message/delivery-status

            Reporting-MTA: dns; mx.example
            Original-Envelope-Id: {mail}

            Original-Recipient: rfc822; kit@harbour.example
            Final-Recipient: rfc822; kit@harbour.example
            Action: {action}
            Status: {status}
            Diagnostic-Code: smtp; 550 5.1.1 no such user here

            --b
            Content-Type: text/rfc822-headers

            From: <proofs@lindhag.example>
            To: <kit@harbour.example>
            Message-ID: <{mail}@proofdesk.local>
            --b--

            """;
}
