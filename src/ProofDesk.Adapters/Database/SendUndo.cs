using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Database;

/// <summary>The newest sending of a version, while none of its letters has begun to leave.</summary>
/// <param name="LeavesAt">until then it can be taken back</param>
/// <param name="Recipients">to whom</param>
public sealed record TakeableSending(DateTimeOffset LeavesAt, IReadOnlyList<string> Recipients);

/// <summary>
/// Takes a sending back within the seconds its letters wait: letters and links go as if they had never been, the version is as it was
/// before, and so is the older one whose place it took. Nobody outside has seen a link, so nothing is called back. Once one letter
/// has begun to leave, or somebody has answered through an older link, it stays sent.
/// </summary>
public sealed class SendUndo(Office office, TimeProvider time)
{
    /// <summary>As the trail calls it; <see cref="Sending"/> writes it down.</summary>
    internal const string HoldEnded = "hold ended by a new version";

    /// <summary>Null when there is nothing to take back any more.</summary>
    public async Task<TakeableSending?> FindAsync(Guid versionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var (links, mails) = await NewestAsync(db, versionId, cancel);
        var leaves = mails.Count == 0 ? default : mails.Min(mail => mail.NextAttemptAt);
        return
            IsUntouched(links, mails)
            && leaves > time.GetUtcNow()
            && !await db.Decisions.AnyAsync(row => row.VersionId == versionId, cancel)
            ? new TakeableSending(leaves, [.. links.Select(link => link.Recipient)])
            : null;
    }

    /// <summary>False when it was too late; then nothing has changed.</summary>
    public async Task<bool> TakeBackAsync(Guid versionId, string actor, CancellationToken cancel = default)
    {
        try
        {
            return await office.WriteAsync(db => TakeBackAsync(db, versionId, actor, cancel), cancel);
        }
        catch (LetterLeft)
        {
            return false;
        }
    }

    private async Task<bool> TakeBackAsync(OfficeDb db, Guid versionId, string actor, CancellationToken cancel)
    {
        await db.LockLogHeadAsync(cancel);
        var (links, mails) = await NewestAsync(db, versionId, cancel);
        if (!IsUntouched(links, mails) || await db.Decisions.AnyAsync(row => row.VersionId == versionId, cancel))
        {
            return false;
        }
        var version = await db.ProofVersions.Include(row => row.Order).SingleAsync(row => row.Id == versionId, cancel);
        if (version.State != VersionState.Sent)
        {
            return false;
        }
        var mailIds = mails.ConvertAll(mail => mail.Id);
        var gone = await db
            .OutboxMails.Where(row => mailIds.Contains(row.Id) && row.State == MailState.Waiting && row.Attempts == 0)
            .ExecuteDeleteAsync(cancel);
        if (gone != mailIds.Count)
        {
            throw new LetterLeft();
        }
        db.Invitations.RemoveRange(links);
        if (version.SentAt == links[0].CreatedAt)
        {
            await UnsendAsync(db, version, cancel);
        }
        db.Note(
            time,
            actor,
            "sending taken back",
            version.OrderId,
            $"version {version.Number} to {string.Join(", ", links.Select(link => link.Recipient))}"
        );
        await db.SaveChangesAsync(cancel);
        return true;
    }

    /// <summary>The version had not been sent before: it waits for us again, and what it had replaced or ended stands again.</summary>
    private static async Task UnsendAsync(OfficeDb db, ProofVersion version, CancellationToken cancel)
    {
        var sentAt = version.SentAt!.Value;
        version.SentAt = null;
        version.State = VersionState.Frozen;
        var order = version.Order!;
        order.State = OrderState.WaitingForUs;
        var older = await db
            .ProofVersions.Where(row =>
                row.OrderId == version.OrderId && row.Number < version.Number && row.SentAt != null
            )
            .OrderByDescending(row => row.Number)
            .FirstOrDefaultAsync(cancel);
        if (older is { State: VersionState.Superseded })
        {
            older.State = VersionState.Sent;
        }
        var hold = await db
            .AuditEvents.AsNoTracking()
            .Where(row => row.OrderId == order.Id && row.Action == HoldEnded && row.At >= sentAt)
            .OrderByDescending(row => row.At)
            .FirstOrDefaultAsync(cancel);
        if (hold is not null && Hold.Parse(hold.Detail) is { } held)
        {
            (order.HeldSince, order.HeldWhy) = (held.Since, held.Why);
        }
    }

    private static bool IsUntouched(List<Invitation> links, List<OutboxMail> mails) =>
        links.Count > 0
        && mails.Count == links.Count
        && mails.TrueForAll(mail => mail is { State: MailState.Waiting, Attempts: 0 });

    /// <summary>The links of one sending carry one moment.</summary>
    private static async Task<(List<Invitation> Links, List<OutboxMail> Mails)> NewestAsync(
        OfficeDb db,
        Guid versionId,
        CancellationToken cancel
    )
    {
        var links = await db
            .Invitations.Where(row => row.VersionId == versionId && row.Purpose != InvitationPurpose.Dispute)
            .ToListAsync(cancel);
        if (links.Count == 0)
        {
            return ([], []);
        }
        var newest = links.Max(link => link.CreatedAt);
        links.RemoveAll(link => link.CreatedAt != newest);
        var ids = links.ConvertAll(link => link.Id);
        var mails = await db
            .OutboxMails.AsNoTracking()
            .Where(row =>
                row.InvitationId != null
                && ids.Contains(row.InvitationId.Value)
                && row.Kind == Sending.LetterKind
                && row.VersionId == versionId
            )
            .ToListAsync(cancel);
        return (links, mails);
    }

    /// <summary>A hold as the trail keeps it when a new version ends it.</summary>
    internal sealed record Hold(DateTimeOffset Since, string Why)
    {
        private const string Format = "yyyy-MM-ddTHH:mm:ss.ffffffZ";

        public string Line => $"since {Since.UtcDateTime.ToString(Format, CultureInfo.InvariantCulture)}: {Why}";

        public static Hold? Parse(string line)
        {
            const string Begins = "since ";
            var end = Begins.Length + "2026-11-28T09:00:00.000000Z".Length;
            return
                line.StartsWith(Begins, StringComparison.Ordinal)
                && line.Length >= end + 2
                && DateTimeOffset.TryParseExact(
                    line[Begins.Length..end],
                    Format,
                    CultureInfo.InvariantCulture,
                    DateTimeStyles.AssumeUniversal,
                    out var since
                )
                ? new Hold(since, line[(end + 2)..])
                : null;
        }
    }

    private sealed class LetterLeft : Exception;
}
