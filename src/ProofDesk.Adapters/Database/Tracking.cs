using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>What became of one letter.</summary>
/// <param name="Returned">what a mail system reported about it: delivered, delayed, failed; empty when nothing</param>
public sealed record TrackedLetter(
    Guid Id,
    string Kind,
    MailState State,
    DateTimeOffset CreatedAt,
    DateTimeOffset NextAttemptAt,
    DateTimeOffset? SentAt,
    string? LastReply,
    string Returned
);

/// <summary>How often the pages of somebody's links were shown: to them, or to a scanner of their mail.</summary>
public sealed record TrackedViews(int Count, DateTimeOffset First, DateTimeOffset Last);

/// <summary>What somebody answered.</summary>
public sealed record TrackedAnswer(Guid Id, DecisionKind Kind, string By, DateTimeOffset At, bool Stands);

/// <summary>One person and what happened with the version they were sent.</summary>
/// <param name="Link">the first link of theirs, which reminders hang on</param>
/// <param name="Reminders">when reminders left</param>
/// <param name="NextReminder">when the next one leaves by itself; null when none does</param>
/// <param name="MayHurry">one more can be sent now</param>
public sealed record TrackedPerson(
    Guid Link,
    string Recipient,
    string Name,
    InvitationPurpose Purpose,
    bool IsPassedOn,
    DateTimeOffset SentAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? RevokedAt,
    IReadOnlyList<TrackedLetter> Letters,
    TrackedViews? Views,
    IReadOnlyList<TrackedAnswer> Answers,
    IReadOnlyList<DateTimeOffset> Reminders,
    bool Stopped,
    DateTimeOffset? NextReminder,
    bool MayHurry
);

/// <summary>Follows a sent version: who got it, what became of each letter, who looked, who answered.</summary>
public sealed class Tracking(Office office, TimeProvider time)
{
    /// <summary>Letters that bring a link; codes and the shop's own letters about it are not followed.</summary>
    private static readonly string[] Followed = [Sending.LetterKind, "reminder"];

    /// <summary>Everybody who was sent this version, the first first.</summary>
    public async Task<IReadOnlyList<TrackedPerson>> OfAsync(Guid versionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Order)
            .SingleOrDefaultAsync(row => row.Id == versionId, cancel);
        if (version is null)
        {
            return [];
        }
        var links = await db
            .Invitations.AsNoTracking()
            .Where(row => row.VersionId == versionId && row.Purpose != InvitationPurpose.Dispute)
            .OrderBy(row => row.CreatedAt)
            .ThenBy(row => row.Id)
            .ToListAsync(cancel);
        var ids = links.ConvertAll(link => link.Id);
        var mails = await db
            .OutboxMails.AsNoTracking()
            .Where(row =>
                row.InvitationId != null && ids.Contains(row.InvitationId.Value) && Followed.Contains(row.Kind)
            )
            .OrderBy(row => row.CreatedAt)
            .ToListAsync(cancel);
        var mailIds = mails.ConvertAll(mail => mail.Id);
        var returns = await db
            .MailReturns.AsNoTracking()
            .Where(row => row.MailId != null && mailIds.Contains(row.MailId.Value))
            .OrderBy(row => row.At)
            .ToListAsync(cancel);
        var views = await db
            .ViewCounts.AsNoTracking()
            .Where(row => row.VersionId == versionId && ids.Contains(row.InvitationId))
            .ToListAsync(cancel);
        var said = await db
            .Decisions.AsNoTracking()
            .Where(row => row.VersionId == versionId)
            .OrderBy(row => row.LeafIndex)
            .ToListAsync(cancel);
        var standing = (
            await db
                .DecisionSlots.Where(row => row.VersionId == versionId)
                .Select(row => row.DecisionId)
                .ToListAsync(cancel)
        )
            .Concat(
                await db
                    .SeatsTaken.Where(row => row.VersionId == versionId)
                    .Select(row => row.DecisionId)
                    .ToListAsync(cancel)
            )
            .ToHashSet();
        var reminders = await db
            .Reminders.AsNoTracking()
            .Where(row => row.VersionId == versionId)
            .OrderBy(row => row.Number)
            .ToListAsync(cancel);
        var rule = (await db.ShopAsync(cancel)).RemindAfterDays;
        return
        [
            .. links
                .GroupBy(link => (link.Recipient.ToUpperInvariant(), link.Purpose))
                .Select(group => Of(version, [.. group], mails, returns, views, said, standing, reminders, rule)),
        ];
    }

    private TrackedPerson Of(
        ProofVersion version,
        List<Invitation> links,
        List<OutboxMail> mails,
        List<MailReturn> returns,
        List<ViewCount> views,
        List<Decision> said,
        HashSet<Guid> standing,
        List<Reminder> reminders,
        int rule
    )
    {
        var now = time.GetUtcNow();
        var first = links[0];
        var ids = links.ConvertAll(link => link.Id);
        var seen = views.FindAll(view => ids.Contains(view.InvitationId));
        var mine = reminders.FindAll(reminder => reminder.InvitationId == first.Id);
        var answers = said.FindAll(one => one.InvitationId is { } by && ids.Contains(by));
        var isOpen =
            first is { RevokedAt: null, NoReminders: false }
            && first.ExpiresAt > now
            && version.Order!.State == OrderState.WaitingForThem
            && version.State is VersionState.Sent or VersionState.Decided
            && !answers.Exists(one => standing.Contains(one.Id));
        var next = ReminderTimes.Next(
            mine.Count == 0 ? first.CreatedAt : mine[^1].At,
            mine.Count,
            rule,
            version.Order!.ApproveByDate
        );
        return new TrackedPerson(
            first.Id,
            first.Recipient,
            first.RecipientName,
            first.Purpose,
            first.PassedOnFromId is not null,
            first.CreatedAt,
            first.ExpiresAt,
            first.RevokedAt,
            [
                .. mails
                    .Where(mail => ids.Contains(mail.InvitationId!.Value))
                    .Select(mail => new TrackedLetter(
                        mail.Id,
                        mail.Kind,
                        mail.State,
                        mail.CreatedAt,
                        mail.NextAttemptAt,
                        mail.SentAt,
                        mail.LastReply,
                        returns.LastOrDefault(one => one.MailId == mail.Id) is { } back
                            ? $"{back.Action} {back.Status} {back.Diagnostic}".Trim()
                            : ""
                    )),
            ],
            seen.Count == 0
                ? null
                : new TrackedViews(
                    seen.Sum(view => view.Count),
                    seen.Min(view => view.FirstAt),
                    seen.Max(view => view.LastAt)
                ),
            [
                .. answers.Select(one => new TrackedAnswer(
                    one.Id,
                    one.Kind,
                    KeptStatement.NameOf(one),
                    one.At,
                    standing.Contains(one.Id)
                )),
            ],
            [.. mine.Select(reminder => reminder.At)],
            first.NoReminders,
            isOpen ? next : null,
            isOpen && mine.Count < Reminder.Most
        );
    }
}
