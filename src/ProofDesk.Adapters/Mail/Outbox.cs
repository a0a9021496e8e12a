using Microsoft.EntityFrameworkCore;
using MimeKit;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Mail;

/// <summary>A mail as the desk lists it.</summary>
public sealed record MailCard(
    Guid Id,
    Guid? OrderId,
    Guid? InvitationId,
    string Kind,
    string Recipient,
    string Subject,
    MailState State,
    int Attempts,
    DateTimeOffset? NextAttemptAt,
    string? LastReply,
    DateTimeOffset CreatedAt,
    DateTimeOffset? SentAt
);

/// <summary>Mails as rows. They are written inside the transaction of the event that causes them, and sent afterwards.</summary>
public sealed class Outbox(
    Office office,
    OfficeSettings settings,
    Sealing sealing,
    PickupFolder pickup,
    OutboxBell bell,
    TimeProvider time
)
{
    /// <summary>Newest first; of one order, or of all.</summary>
    public async Task<IReadOnlyList<MailCard>> ListAsync(
        Guid? orderId,
        int most = 200,
        CancellationToken cancel = default
    )
    {
        await using var db = office.Open();
        return await db
            .OutboxMails.AsNoTracking()
            .Where(row => orderId == null || row.OrderId == orderId)
            .OrderByDescending(row => row.Id)
            .Take(most)
            .Select(row => new MailCard(
                row.Id,
                row.OrderId,
                row.InvitationId,
                row.Kind,
                row.Recipient,
                row.Subject,
                row.State,
                row.Attempts,
                row.State == MailState.Waiting || row.State == MailState.Uncertain ? row.NextAttemptAt : null,
                row.LastReply,
                row.CreatedAt,
                row.SentAt
            ))
            .ToListAsync(cancel);
    }

    /// <summary>
    /// The text part, link included: while the mail waits, and afterwards when it went to the pickup folder. Null once an SMTP server
    /// has it: then the link is with the client only.
    /// </summary>
    public async Task<string?> TextOfAsync(Guid mailId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var sealedMime = await db
            .OutboxMails.Where(row => row.Id == mailId)
            .Select(row => row.SealedMime)
            .SingleOrDefaultAsync(cancel);
        if (sealedMime is null)
        {
            return await pickup.TextOfAsync(mailId, cancel);
        }
        using var message = await MimeMessage.LoadAsync(new MemoryStream(sealing.Open(sealedMime)), cancel);
        return message.TextBody?.ReplaceLineEndings("\n");
    }

    /// <summary>Tries a bounced, paused or waiting mail again at once. False when it was sent or does not exist.</summary>
    public async Task<bool> TryAgainAsync(Guid mailId, string actor, CancellationToken cancel = default)
    {
        var found = await office.WriteAsync(
            async db =>
            {
                var mail = await db.OutboxMails.SingleOrDefaultAsync(row => row.Id == mailId, cancel);
                if (mail?.SealedMime is null || mail.State == MailState.Sending)
                {
                    return false;
                }
                mail.State = MailState.Waiting;
                mail.NextAttemptAt = time.GetUtcNow();
                db.Note(time, actor, "mail tried again", mail.OrderId, mail.Recipient);
                await db.SaveChangesAsync(cancel);
                return true;
            },
            cancel
        );
        bell.Ring();
        return found;
    }

    /// <summary>Mails that staff should look at, for the health page.</summary>
    public async Task<int> TroubleAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db.OutboxMails.CountAsync(
            row => row.State == MailState.Bounced || row.State == MailState.Paused || row.State == MailState.Uncertain,
            cancel
        );
    }

    /// <summary>Fills in subject, date and sealed bytes, and puts the row into the caller's transaction.</summary>
    internal void Add(
        OfficeDb db,
        OutboxMail mail,
        Letter letter,
        ShopSettings shop,
        params IReadOnlyList<Attachment> attachments
    )
    {
        var now = time.GetUtcNow();
        mail.Subject = letter.Subject;
        mail.CreatedAt = now;
        mail.NextAttemptAt = now;
        mail.SealedMime = sealing.Seal(MimeMaker.Make(letter, mail, shop, settings.Mail, now, attachments));
        db.OutboxMails.Add(mail);
    }

    /// <summary>
    /// Why this person may not cause so many more letters today, or null. A stolen account must not become a mailing list.
    /// </summary>
    internal async Task<string?> QuotaAsync(
        OfficeDb db,
        ShopSettings shop,
        string actor,
        int more,
        CancellationToken cancel
    )
    {
        var since = time.GetUtcNow().AddDays(-1);
        var caused = await db.OutboxMails.CountAsync(row => row.CausedBy == actor && row.CreatedAt > since, cancel);
        return caused + more <= shop.MailsPerDay
            ? null
            : $"{actor} caused {caused} letters in the last 24 hours, {more} more would pass the {shop.MailsPerDay} a day "
                + "that one person may cause; wait, or ask the owner to raise the number";
    }

    /// <summary>After the commit.</summary>
    internal void Ring() => bell.Ring();
}
