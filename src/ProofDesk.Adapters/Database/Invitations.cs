using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

/// <summary>What a mailed link turned out to be.</summary>
public abstract record LinkResult
{
    private LinkResult() { }

    /// <summary>The checksum characters do not fit: cut off or mistyped. Answer 404 and say so.</summary>
    public sealed record Incomplete : LinkResult;

    /// <summary>Well formed, never given out. Answer 404.</summary>
    public sealed record Unknown : LinkResult;

    /// <summary>Expired or revoked. Answer 410.</summary>
    public sealed record Gone(bool Revoked, DateTimeOffset Since) : LinkResult
    {
        public Guid InvitationId { get; init; }
    }

    public sealed record Open(Guid InvitationId, InvitationPurpose Purpose, Guid OrderId) : LinkResult;
}

/// <summary>What the holder of a link may see now.</summary>
/// <param name="Version">the newest version that was sent, also when the link came with an older one; with files</param>
/// <param name="Order">with client, prints, lines and counts</param>
/// <param name="Decision">the effective answer of this link's seat on <paramref name="Version"/></param>
/// <param name="OpensNewerThanMailed">the link was mailed with an older version</param>
public sealed record Review(
    Invitation Invitation,
    Order Order,
    ProofVersion Version,
    Decision? Decision,
    bool OpensNewerThanMailed
)
{
    /// <summary>The evidence an answer must carry.</summary>
    public EvidenceLevel Asked { get; init; } = EvidenceLevel.Link;

    /// <summary>For the second approver: what the first has said.</summary>
    public Decision? First { get; init; }

    /// <summary>What was said about the printed sample.</summary>
    public Decision? Sample { get; init; }

    /// <summary>A sample was printed and nobody has answered about it.</summary>
    public bool WaitsForSample { get; init; }
}

/// <summary>A link as the desk lists it.</summary>
/// <param name="Opened">how often its page was shown: by the client, or by a scanner of the mail</param>
public sealed record LinkCard(
    Guid Id,
    int VersionNumber,
    string Recipient,
    string RecipientName,
    DateTimeOffset CreatedAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? RevokedAt,
    int Opened,
    DateTimeOffset? LastOpenedAt
);

/// <summary>Reads links. Opening one decides nothing; that its page was shown is counted beside it.</summary>
public sealed class Invitations(Office office, TimeProvider time)
{
    public async Task<LinkResult> OpenAsync(string token, CancellationToken cancel = default)
    {
        if (!LinkToken.IsWhole(token))
        {
            return new LinkResult.Incomplete();
        }
        var digest = LinkToken.DigestOf(token);
        await using var db = office.Open();
        var invitation = await db
            .Invitations.AsNoTracking()
            .SingleOrDefaultAsync(row => row.TokenSha256 == digest, cancel);
        return invitation is null
            ? new LinkResult.Unknown()
            : GoneSince(invitation, time.GetUtcNow())
                ?? (LinkResult)new LinkResult.Open(invitation.Id, invitation.Purpose, invitation.OrderId);
    }

    /// <summary>Read again on each request, so that a revoked link closes at once. Null when it is closed or nothing was sent.</summary>
    public async Task<Review?> ReviewAsync(Guid invitationId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var invitation = await db
            .Invitations.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        if (
            invitation is null or { Purpose: InvitationPurpose.Dispute }
            || GoneSince(invitation, time.GetUtcNow()) is not null
        )
        {
            return null;
        }
        var order = await db
            .Orders.AsNoTracking()
            .AsSplitQuery()
            .Include(row => row.Client)
            .Include(row => row.Prints.OrderBy(print => print.Position))
            .Include(row => row.Lines.OrderBy(line => line.Position))
                .ThenInclude(line => line.Counts.OrderBy(count => count.Position))
            .SingleAsync(row => row.Id == invitation.OrderId, cancel);
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Files.OrderBy(file => file.Path))
            .Where(row => row.OrderId == invitation.OrderId && row.SentAt != null)
            .OrderByDescending(row => row.Number)
            .FirstOrDefaultAsync(cancel);
        if (version is null)
        {
            return null;
        }
        var seat = Seats.Of(invitation, forSample: false);
        var answer = await Seats.StandingAsync(db, version.Id, seat, cancel);
        var sample = await Seats.StandingAsync(db, version.Id, AnswerSeat.Sample, cancel);
        var hasSample = await db.LoggedEvents.AnyAsync(
            row => row.VersionId == version.Id && row.Kind == EventKind.SampleMade,
            cancel
        );
        return new Review(invitation, order, version, answer, version.Id != invitation.VersionId)
        {
            Asked = EvidenceAsked.Of(order, await db.ShopAsync(cancel)),
            First = seat is null ? null : await Seats.StandingAsync(db, version.Id, null, cancel),
            Sample = sample,
            WaitsForSample = seat is null && hasSample && sample is null && answer?.Kind == DecisionKind.Approve,
        };
    }

    /// <summary>The language a link was given out in; empty when that was left to the browser, null when there is no such link.</summary>
    public async Task<string?> LocaleAsync(Guid invitationId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .Invitations.Where(row => row.Id == invitationId)
            .Select(row => row.Locale)
            .SingleOrDefaultAsync(cancel);
    }

    /// <summary>Whether the page of a link was ever shown.</summary>
    public async Task<bool> WasShownAsync(Guid invitationId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db.ViewCounts.AnyAsync(row => row.InvitationId == invitationId, cancel);
    }

    /// <summary>Why and since when a link is closed; null while it is open or when there is none.</summary>
    public async Task<LinkResult.Gone?> GoneAsync(Guid invitationId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var invitation = await db
            .Invitations.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        return invitation is null ? null : GoneSince(invitation, time.GetUtcNow());
    }

    /// <summary>Links of an order, newest first.</summary>
    public async Task<IReadOnlyList<LinkCard>> OfOrderAsync(Guid orderId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .Invitations.AsNoTracking()
            .Where(row => row.OrderId == orderId && row.Purpose != InvitationPurpose.Dispute)
            .OrderByDescending(row => row.Id)
            .Select(row => new LinkCard(
                row.Id,
                db.ProofVersions.Where(version => version.Id == row.VersionId)
                    .Select(version => version.Number)
                    .Single(),
                row.Recipient,
                row.RecipientName,
                row.CreatedAt,
                row.ExpiresAt,
                row.RevokedAt,
                db.ViewCounts.Where(view => view.InvitationId == row.Id).Sum(view => view.Count),
                db.ViewCounts.Where(view => view.InvitationId == row.Id).Max(view => (DateTimeOffset?)view.LastAt)
            ))
            .ToListAsync(cancel);
    }

    /// <summary>Counts that the page of a link was shown. Says nothing about who looked.</summary>
    public Task CountViewAsync(Guid invitationId, Guid versionId, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var now = time.GetUtcNow();
                var counted = await db
                    .ViewCounts.Where(row => row.InvitationId == invitationId && row.VersionId == versionId)
                    .ExecuteUpdateAsync(
                        set =>
                            set.SetProperty(row => row.Count, row => row.Count + 1).SetProperty(row => row.LastAt, now),
                        cancel
                    );
                if (counted == 0)
                {
                    db.ViewCounts.Add(
                        new ViewCount
                        {
                            InvitationId = invitationId,
                            VersionId = versionId,
                            Count = 1,
                            FirstAt = now,
                            LastAt = now,
                        }
                    );
                    await db.SaveChangesAsync(cancel);
                }
            },
            cancel
        );

    internal static LinkResult.Gone? GoneSince(Invitation invitation, DateTimeOffset now) =>
        invitation.RevokedAt is { } revoked ? new LinkResult.Gone(true, revoked) { InvitationId = invitation.Id }
        : invitation.ExpiresAt <= now
            ? new LinkResult.Gone(false, invitation.ExpiresAt) { InvitationId = invitation.Id }
        : null;
}
