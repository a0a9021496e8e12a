using System.Globalization;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>What somebody typed, held against the newest code of the link before the turn to write is taken.</summary>
/// <param name="CodeId">the code it was compared with; null when there is none</param>
internal sealed record CodeGuess(Guid InvitationId, Guid? CodeId, bool Fits);

/// <summary>
/// Codes mailed on demand. Whoever asks learns nothing from the answer: three an hour leave, the newest alone counts, and it belongs
/// to one link and one version.
/// </summary>
public sealed class MailedCodes(Office office, Outbox outbox, TimeProvider time)
{
    /// <summary>Mails a code to the invited address if one can be had now; says nothing about whether it did.</summary>
    public async Task AskAsync(Guid invitationId, CancellationToken cancel = default)
    {
        var code = RandomNumberGenerator.GetInt32(100_000_000).ToString("D8", CultureInfo.InvariantCulture);
        // Made in any case, so that the time of the answer does not tell either.
        var hash = SlowHash.Of(code);
        await office.WriteAsync(db => AskAsync(db, invitationId, code, hash, cancel), cancel);
        outbox.Ring();
    }

    private async Task AskAsync(OfficeDb db, Guid invitationId, string code, string hash, CancellationToken cancel)
    {
        // Two that ask at once are counted one after the other.
        await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var invitation = await db
            .Invitations.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        if (
            invitation is null or { Purpose: InvitationPurpose.Dispute }
            || Invitations.GoneSince(invitation, now) is not null
        )
        {
            return;
        }
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Order)
            .Where(row => row.OrderId == invitation.OrderId && row.SentAt != null)
            .OrderByDescending(row => row.Number)
            .FirstOrDefaultAsync(cancel);
        var since = now.AddHours(-1);
        var lately = await db.MailedCodes.CountAsync(
            row => row.InvitationId == invitationId && row.IssuedAt > since,
            cancel
        );
        if (version is null || lately >= CodeRules.PerHour)
        {
            return;
        }
        var ends = now.AddMinutes(CodeRules.Minutes);
        db.MailedCodes.Add(
            new MailedCode
            {
                InvitationId = invitationId,
                VersionId = version.Id,
                CodeHash = hash,
                IssuedAt = now,
                ExpiresAt = ends,
            }
        );
        var shop = await db.ShopAsync(cancel);
        outbox.Add(
            db,
            new OutboxMail
            {
                OrderId = version.OrderId,
                VersionId = version.Id,
                InvitationId = invitationId,
                Kind = "code",
                Recipient = invitation.Recipient,
                Subject = "",
            },
            Letters.Code(shop, version.Order!, version, code, ends),
            shop
        );
        await db.SaveChangesAsync(cancel);
    }

    /// <summary>The slow part of a comparison, outside any transaction. Null when nothing was typed.</summary>
    internal async Task<CodeGuess?> GuessAsync(Guid invitationId, string? typed, CancellationToken cancel)
    {
        var digits = CodeRules.Plain(typed);
        if (digits.Length == 0)
        {
            return null;
        }
        await using var db = office.Open();
        var newest = await NewestAsync(db.MailedCodes.AsNoTracking(), invitationId, cancel);
        return new CodeGuess(
            invitationId,
            newest?.Id,
            newest is not null && digits.Length == CodeRules.Digits && SlowHash.Fits(digits, newest.CodeHash)
        );
    }

    /// <summary>Counts the try inside the turn to write, so that a thousand guesses at once are still five.</summary>
    internal static async Task<CodeTry?> TryAsync(
        OfficeDb db,
        CodeGuess? guess,
        Guid versionId,
        DateTimeOffset at,
        CancellationToken cancel
    )
    {
        if (guess is null)
        {
            return null;
        }
        var code = await NewestAsync(db.MailedCodes, guess.InvitationId, cancel);
        if (
            code is null
            || code.UsedAt is not null
            || code.VersionId != versionId
            || code.ExpiresAt <= at
            || code.Tries >= CodeRules.Tries
        )
        {
            return new CodeTry.Spent();
        }
        code.Tries++;
        var isRight = guess.Fits && guess.CodeId == code.Id;
        if (isRight)
        {
            code.EnteredAt ??= at;
        }
        await db.SaveChangesAsync(cancel);
        return isRight ? new CodeTry.Right()
            : code.Tries < CodeRules.Tries ? new CodeTry.Wrong(CodeRules.Tries - code.Tries)
            : new CodeTry.Spent();
    }

    /// <summary>One answer a code.</summary>
    internal static async Task UseAsync(OfficeDb db, CodeGuess guess, DateTimeOffset at, CancellationToken cancel)
    {
        var code = await db.MailedCodes.SingleAsync(row => row.Id == guess.CodeId, cancel);
        code.UsedAt = at;
        await db.SaveChangesAsync(cancel);
    }

    private static Task<MailedCode?> NewestAsync(
        IQueryable<MailedCode> codes,
        Guid invitationId,
        CancellationToken cancel
    ) =>
        codes
            .Where(row => row.InvitationId == invitationId)
            .OrderByDescending(row => row.IssuedAt)
            .ThenByDescending(row => row.Id)
            .FirstOrDefaultAsync(cancel);
}
