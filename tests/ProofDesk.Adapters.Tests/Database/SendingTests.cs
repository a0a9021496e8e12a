using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class SendingTests
{
    [SkippableTheory, OnBothEngines]
    public async Task A_link_opens_what_was_sent_and_its_token_is_nowhere_at_rest(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);

        var proof = await shop.SentVersionAsync();

        Assert.Equal(
            new LinkResult.Open(proof.InvitationId, InvitationPurpose.Review, await OrderOfAsync(shop, proof)),
            await shop.Invitations.OpenAsync(proof.Token)
        );
        foreach (var stored in await EverythingAtRestAsync(shop, engine))
        {
            Assert.Equal(-1, stored.AsSpan().IndexOf(Encoding.ASCII.GetBytes(proof.Token[..20])));
        }
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_new_version_takes_over_the_old_link(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var order = await shop.NewOrderAsync();
        var first = await shop.SentVersionAsync(order);
        var second = await shop.SentVersionAsync(order);

        var review = await shop.Invitations.ReviewAsync(first.InvitationId);

        Assert.Equal((second.VersionId, true), (review!.Version.Id, review.OpensNewerThanMailed));
        await using var db = shop.Office.Open();
        Assert.Equal(
            [VersionState.Superseded, VersionState.Sent],
            await db.ProofVersions.OrderBy(row => row.Number).Select(row => row.State).ToListAsync()
        );
        Assert.Equal(
            new SendResult.NotFrozen(VersionState.Superseded),
            await shop.Sending.SendAsync(
                new SendRequest(first.VersionId, [new LinkRecipient("kit@harbour.example")], "", "anna")
            )
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_version_that_is_not_frozen_is_not_sent(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");

        var result = await shop.Sending.SendAsync(
            new SendRequest(version, [new LinkRecipient("kit@harbour.example")], "", "anna")
        );

        Assert.Equal(new SendResult.NotFrozen(VersionState.Rendering), result);
        Assert.Equal((0, 0), (await shop.CountAsync<OutboxMail>(), await shop.CountAsync<Invitation>()));
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_unusable_recipient_is_named_and_nothing_is_sent(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.FrozenVersionAsync();

        var result = await shop.Sending.SendAsync(
            new SendRequest(
                version,
                [
                    new("kit@harbour.example\r\nBcc: all@elsewhere.example"),
                    new("nobody"),
                    new("kim@harbour.example", "Kim\nBcc: x"),
                ],
                "",
                "anna"
            )
        );

        Assert.Equal(
            [
                "the address has a line break or another control character",
                "\"nobody\" is not a mail address; one looks like name@example.com",
                "the name beside kim@harbour.example has a line break or is longer than 200 characters",
            ],
            Assert.IsType<SendResult.Unusable>(result).Problems
        );
        Assert.Equal(0, await shop.CountAsync<OutboxMail>());
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_cut_off_a_made_up_an_expired_and_a_revoked_link_are_told_apart(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        Assert.IsType<LinkResult.Incomplete>(await shop.Invitations.OpenAsync(proof.Token[..^3]));
        Assert.IsType<LinkResult.Incomplete>(await shop.Invitations.OpenAsync("x" + proof.Token[1..]));
        Assert.IsType<LinkResult.Unknown>(await shop.Invitations.OpenAsync(LinkToken.New()));
        await shop.Sending.RevokeAsync(proof.InvitationId, "anna");
        Assert.Equal(
            new LinkResult.Gone(true, TestShop.Start) { InvitationId = proof.InvitationId },
            await shop.Invitations.OpenAsync(proof.Token)
        );
        Assert.Null(await shop.Invitations.ReviewAsync(proof.InvitationId));
        var later = await shop.SentVersionAsync();
        shop.Time.Advance(TimeSpan.FromDays(31));
        Assert.Equal(
            new LinkResult.Gone(false, TestShop.Start.AddDays(30)) { InvitationId = later.InvitationId },
            await shop.Invitations.OpenAsync(later.Token)
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_preview_is_the_letter_without_its_link(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.FrozenVersionAsync();
        var request = new SendRequest(
            version,
            [new LinkRecipient("kit@harbour.example", "Kim")],
            "The blue is the new one.",
            "anna"
        );

        var preview = await shop.Sending.PreviewAsync(request);

        Assert.Equal("Proof for 1001 Regatta tee, version 1: please look by 1 December 2026", preview!.Subject);
        Assert.Equal(
            """
            Hello Kim,

            the proof for Regatta tee is ready: version 1, from Lindhag Screen Works.

            The blue is the new one.

            Order: 1001
            Please answer by: 1 December 2026
            In hands: 18 December 2026

            Look at the proof:
            https://proofs.lindhag.example/r/(the link of each recipient)

            You will be asked for your name; nothing happens by just opening the link. You can approve the proof there or ask for changes.

            The link is for you alone and works until 24 December 2026 09:00 (UTC).

            If you did not expect this, ignore it or tell us.

            Lindhag Screen Works
            Quay 4
            555 0100

            """,
            preview.Text
        );
        var sent = Assert.IsType<SendResult.Sent>(await shop.Sending.SendAsync(request));
        var stored = await shop.Outbox.TextOfAsync(sent.MailIds[0]);
        Assert.Equal(
            preview.Text.Replace("(the link of each recipient)", "LINK", StringComparison.Ordinal),
            System.Text.RegularExpressions.Regex.Replace(stored!, "/r/[A-Za-z0-9_-]{47}\n", "/r/LINK\n")
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task Openings_without_number_are_counted_once_an_hour_and_decide_nothing(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        for (var at = 0; at < (LongCounts.Asked ? 1000 : 60); at++)
        {
            Assert.IsType<LinkResult.Open>(await shop.Invitations.OpenAsync(proof.Token));
            Assert.NotNull(await shop.Invitations.ReviewAsync(proof.InvitationId));
        }
        await shop.Invitations.CountViewAsync(proof.InvitationId, proof.VersionId);
        shop.Time.Advance(TimeSpan.FromHours(1));
        await shop.Invitations.CountViewAsync(proof.InvitationId, proof.VersionId);

        var card = Assert.Single(await shop.Invitations.OfOrderAsync(await OrderOfAsync(shop, proof)));
        Assert.Equal(
            (1, "Kim", 2, TestShop.Start.AddHours(1)),
            (card.VersionNumber, card.RecipientName, card.Opened, card.LastOpenedAt)
        );
        Assert.Equal(0, await shop.CountAsync<Decision>());
        Assert.Equal(VersionState.Sent, (await shop.Invitations.ReviewAsync(proof.InvitationId))!.Version.State);
    }

    private static async Task<Guid> OrderOfAsync(TestShop shop, SentProof proof)
    {
        await using var db = shop.Office.Open();
        return await db.ProofVersions.Where(row => row.Id == proof.VersionId).Select(row => row.OrderId).SingleAsync();
    }

    private static async Task<IReadOnlyList<byte[]>> EverythingAtRestAsync(TestShop shop, Engine engine)
    {
        if (engine == Engine.Sqlite)
        {
            return
            [
                .. Directory
                    .GetFiles(shop.Settings.DataFolder, "*", SearchOption.AllDirectories)
                    .Where(path => path != shop.Folder.Lock)
                    .Select(Read),
            ];
        }
        await using var db = shop.Office.Open();
        var rows = await db
            .Database.SqlQuery<string>(
                $"""
                SELECT row_to_json(t)::text AS "Value" FROM outbox_mail AS t UNION ALL
                SELECT row_to_json(t)::text FROM invitation AS t UNION ALL
                SELECT row_to_json(t)::text FROM audit_event AS t UNION ALL
                SELECT row_to_json(t)::text FROM orders AS t UNION ALL
                SELECT row_to_json(t)::text FROM proof_version AS t
                """
            )
            .ToListAsync();
        return [.. rows.Select(Encoding.UTF8.GetBytes)];
    }

    private static byte[] Read(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var bytes = new byte[file.Length];
        file.ReadExactly(bytes);
        return bytes;
    }
}
