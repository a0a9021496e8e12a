using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>What the reader of a receipt is asked about.</summary>
/// <param name="OpenSince">somebody said already that it was not they, and nobody has settled it</param>
public sealed record DisputedDecision(
    Invitation? Invitation,
    Decision Decision,
    Order Order,
    int Version,
    DateTimeOffset? OpenSince
);

/// <summary>"This was not me": an event, production held, the shop told; and staff's word that ends it.</summary>
public sealed class Disputes(Office office, EventLog events, Outbox outbox, TimeProvider time)
{
    public const int MostWords = 1500;

    /// <summary>By the link of a receipt; null when it is closed or is another kind of link.</summary>
    public async Task<DisputedDecision?> FindAsync(Guid invitationId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var invitation = await db
            .Invitations.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        return
            invitation is not { Purpose: InvitationPurpose.Dispute, DecisionId: { } decision }
            || Invitations.GoneSince(invitation, time.GetUtcNow()) is not null
            ? null
            : await AboutAsync(db, decision, invitation, cancel);
    }

    /// <summary>Holds production. Saying it again while it is open changes nothing; null when there is no such decision.</summary>
    public async Task<DisputedDecision?> DisputeAsync(Guid decisionId, string words, CancellationToken cancel = default)
    {
        SealedLeaf? leaf = null;
        var result = await office.WriteAsync(
            async db =>
            {
                (var about, leaf) = await DisputeAsync(db, decisionId, words, CancellationToken.None);
                return about;
            },
            cancel
        );
        await PublishAsync(leaf);
        return result;
    }

    /// <summary>Ends what holds the order's production, with words. An answer that does not count keeps it held until a new version is out.</summary>
    /// <returns>false when nothing is held</returns>
    public async Task<bool> SettleAsync(
        Guid orderId,
        bool stands,
        string words,
        string actor,
        CancellationToken cancel = default
    )
    {
        SealedLeaf? leaf = null;
        await office.WriteAsync(
            async db =>
            {
                leaf = await SettleAsync(db, orderId, stands, words, actor, CancellationToken.None);
            },
            cancel
        );
        await PublishAsync(leaf);
        return leaf is not null;
    }

    private async Task PublishAsync(SealedLeaf? leaf)
    {
        if (leaf is not null)
        {
            await events.PublishAsync(leaf, CancellationToken.None);
            outbox.Ring();
        }
    }

    private async Task<(DisputedDecision?, SealedLeaf?)> DisputeAsync(
        OfficeDb db,
        Guid decisionId,
        string words,
        CancellationToken cancel
    )
    {
        // Two that press at once are one dispute.
        await db.LockLogHeadAsync(cancel);
        if (await AboutAsync(db, decisionId, null, cancel) is not { } about || about.OpenSince is not null)
        {
            return (await AboutAsync(db, decisionId, null, cancel), null);
        }
        var decision = about.Decision;
        var facts = ImmutableSortedDictionary
            .Create<string, string>(StringComparer.Ordinal)
            .Add("decision", decision.Id.ToString())
            .Add("statement", decision.StatementSha256);
        var (row, leaf) = await events.AppendAsync(
            db,
            new Happening(
                EventKind.Disputed,
                decision.Recipient,
                words.Length > 0 ? facts.Add("words", words) : facts,
                decision.OrderId,
                decision.VersionId,
                Sha256Digest.TryParseHex(decision.ManifestSha256, out var manifest) ? manifest : null,
                decision.Id
            ),
            cancel
        );
        var order = await db.Orders.SingleAsync(order => order.Id == decision.OrderId, cancel);
        // Names nobody: the reason outlives an erasure and goes into the log when the dispute is settled.
        order.Hold(row.At, "somebody who was mailed the receipt says that the answer was not theirs");
        order.State = OrderState.WaitingForUs;
        var shop = await db.ShopAsync(cancel);
        if (MailAddresses.Problem(shop.ReplyTo) is null)
        {
            var left = await db.LoggedEvents.AnyAsync(
                one =>
                    one.VersionId == decision.VersionId
                    && (one.Kind == EventKind.FilmsExported || one.Kind == EventKind.ReleasedUnapproved),
                cancel
            );
            outbox.Add(
                db,
                Receipts.New("disputed", shop.ReplyTo, decision),
                Letters.Disputed(shop, order, about.Version, decision, words, left),
                shop
            );
        }
        await db.SaveChangesAsync(cancel);
        return (about with { OpenSince = row.At }, leaf);
    }

    private async Task<SealedLeaf?> SettleAsync(
        OfficeDb db,
        Guid orderId,
        bool stands,
        string words,
        string actor,
        CancellationToken cancel
    )
    {
        await db.LockLogHeadAsync(cancel);
        var order = await db.Orders.SingleOrDefaultAsync(row => row.Id == orderId, cancel);
        if (order?.HeldSince is null)
        {
            return null;
        }
        var last = await db
            .LoggedEvents.AsNoTracking()
            .Where(row =>
                row.OrderId == orderId
                && (
                    row.Kind == EventKind.Disputed
                    || row.Kind == EventKind.DisputeSettled
                    || row.Kind == EventKind.Flagged
                )
            )
            .OrderByDescending(row => row.LeafIndex)
            .ToListAsync(cancel);
        var dispute = last.Find(row => row.Kind is EventKind.Disputed or EventKind.DisputeSettled);
        var about = dispute is { Kind: EventKind.Disputed } ? dispute : last.Find(row => row.Kind == EventKind.Flagged);
        var version = await db
            .ProofVersions.Where(row => row.OrderId == orderId && row.SentAt != null)
            .OrderByDescending(row => row.Number)
            .FirstOrDefaultAsync(cancel);
        var (_, leaf) = await events.AppendAsync(
            db,
            new Happening(
                about?.Kind == EventKind.Disputed ? EventKind.DisputeSettled : EventKind.HoldLifted,
                actor,
                ImmutableSortedDictionary
                    .Create<string, string>(StringComparer.Ordinal)
                    .Add("held", order.HeldWhy[..Math.Min(order.HeldWhy.Length, MostWords)])
                    .Add("outcome", stands ? "the answer stands" : "the answer does not count")
                    .Add("words", words),
                orderId,
                about?.VersionId ?? version?.Id,
                Sha256Digest.TryParseHex(version?.ManifestSha256 ?? "", out var manifest) ? manifest : null,
                about?.SubjectId
            ),
            cancel
        );
        if (stands)
        {
            (order.HeldSince, order.HeldWhy) = (null, "");
            if (version is not null)
            {
                version.Order = order;
                order.State = await Seats.TurnAsync(db, version, cancel);
            }
        }
        else
        {
            order.HeldWhy = $"{actor} found that the answer does not count; a new version must be made and approved";
            order.State = OrderState.WaitingForUs;
        }
        await db.SaveChangesAsync(cancel);
        return leaf;
    }

    private static async Task<DisputedDecision?> AboutAsync(
        OfficeDb db,
        Guid decisionId,
        Invitation? invitation,
        CancellationToken cancel
    )
    {
        var decision = await db.Decisions.AsNoTracking().SingleOrDefaultAsync(row => row.Id == decisionId, cancel);
        if (decision is null)
        {
            return null;
        }
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Order)
            .SingleAsync(row => row.Id == decision.VersionId, cancel);
        return new DisputedDecision(
            invitation,
            decision,
            version.Order!,
            version.Number,
            await Records.DisputedSinceAsync(db, decisionId, cancel)
        );
    }
}
