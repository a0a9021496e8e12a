using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Adapters.Database;

/// <summary>One decision with everything its page shows.</summary>
/// <param name="Stands">it holds the slot of its version: not taken back</param>
/// <param name="ReleasedAt">from when an approval releases films; null unless it is a standing approval</param>
/// <param name="DisputedSince">somebody says it was not they, and staff has not settled it</param>
public sealed record DecisionRecord(
    Decision Decision,
    DecisionStatement Statement,
    ProofVersion Version,
    Order Order,
    SealedLeaf Leaf,
    bool Stands,
    DateTimeOffset? ReleasedAt,
    DateTimeOffset? DisputedSince = null
);

/// <summary>Reads what was decided, and seals it into a packet.</summary>
public sealed class Records(Office office, OfficeSettings settings, LogKeeper log, IFileStore files)
{
    public async Task<DecisionRecord?> FindAsync(Guid decisionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var decision = await db.Decisions.AsNoTracking().SingleOrDefaultAsync(row => row.Id == decisionId, cancel);
        if (decision is null)
        {
            return null;
        }
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Files.OrderBy(file => file.Path))
            .Include(row => row.Order)
                .ThenInclude(order => order!.Client)
            .AsSplitQuery()
            .SingleAsync(row => row.Id == decision.VersionId, cancel);
        var stands =
            await db.DecisionSlots.AnyAsync(row => row.DecisionId == decisionId, cancel)
            || await db.SeatsTaken.AnyAsync(row => row.DecisionId == decisionId, cancel);
        var leaf = await log.ProveAsync(decision.LeafIndex, cancel);
        return new DecisionRecord(
            decision,
            KeptStatement.Of(decision),
            version,
            version.Order!,
            leaf,
            stands,
            stands && decision.Kind == DecisionKind.Approve ? decision.At.AddMinutes(settings.HoldMinutes) : null,
            await DisputedSinceAsync(db, decisionId, cancel)
        );
    }

    /// <summary>Since when somebody says it was not they who decided, and staff has not settled it; null = nobody does.</summary>
    internal static async Task<DateTimeOffset?> DisputedSinceAsync(
        OfficeDb db,
        Guid decisionId,
        CancellationToken cancel
    )
    {
        var last = await db
            .LoggedEvents.AsNoTracking()
            .Where(row =>
                row.SubjectId == decisionId && (row.Kind == EventKind.Disputed || row.Kind == EventKind.DisputeSettled)
            )
            .OrderByDescending(row => row.LeafIndex)
            .FirstOrDefaultAsync(cancel);
        return last is { Kind: EventKind.Disputed } ? last.At : null;
    }

    /// <summary>All decisions of an order, in the order of the log.</summary>
    public async Task<IReadOnlyList<Decision>> OfOrderAsync(Guid orderId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .Decisions.AsNoTracking()
            .Include(row => row.Version)
            .Where(row => row.OrderId == orderId)
            .OrderBy(row => row.LeafIndex)
            .ToListAsync(cancel);
    }

    /// <summary>
    /// The packet of a decision, without its files; null when there is no such decision. An <see cref="ErasedException"/> when its
    /// personal data was erased.
    /// </summary>
    public async Task<Packet?> PacketAsync(Guid decisionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var decision = await db
            .Decisions.AsNoTracking()
            .Include(row => row.Version)
            .SingleOrDefaultAsync(row => row.Id == decisionId, cancel);
        if (decision is null)
        {
            return null;
        }
        if (decision.IsErased)
        {
            throw new ErasedException(decision.LeafIndex);
        }
        var version = decision.Version!;
        var (freeze, said, keys) = await log.ProveBothAsync(version.FreezeLeafIndex!.Value, decision.LeafIndex, cancel);
        return new Packet(
            [.. version.ManifestBytes!],
            [.. decision.StatementBytes],
            decision.StatementText,
            keys,
            freeze,
            said
        );
    }

    /// <summary>Writes the archive. Each file is compared with both its digests before the first byte leaves.</summary>
    public Task WritePacketAsync(Packet packet, Stream output, CancellationToken cancel = default) =>
        PacketWriter.WriteAsync(output, packet, file => files.Open(file.Sha256.Hex), cancel);
}
