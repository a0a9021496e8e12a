using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Adapters.Database;

/// <summary>One decision with everything its page shows.</summary>
/// <param name="Stands">it holds the slot of its version: not taken back</param>
/// <param name="ReleasedAt">from when an approval releases films; null unless it is a standing approval</param>
public sealed record DecisionRecord(
    Decision Decision,
    DecisionStatement Statement,
    ProofVersion Version,
    Order Order,
    SealedLeaf Leaf,
    bool Stands,
    DateTimeOffset? ReleasedAt
);

/// <summary>Reads what was decided, and seals it into a packet.</summary>
public sealed class Records(Office office, OfficeSettings settings, LogKeeper log, IFileStore files, TimeProvider time)
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
        var stands = await db.DecisionSlots.AnyAsync(row => row.DecisionId == decisionId, cancel);
        var leaf = await log.ProveAsync(decision.LeafIndex, cancel);
        return new DecisionRecord(
            decision,
            StatementJson.Parse(decision.StatementBytes),
            version,
            version.Order!,
            leaf,
            stands,
            stands && decision.Kind == DecisionKind.Approve ? decision.At.AddMinutes(settings.HoldMinutes) : null
        );
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

    /// <summary>Whether full films of this version may leave the server now: approved, not taken back, hold over.</summary>
    public async Task<bool> IsReleasedAsync(Guid versionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var approvedAt = await db
            .DecisionSlots.Where(row => row.VersionId == versionId && row.Decision!.Kind == DecisionKind.Approve)
            .Select(row => (DateTimeOffset?)row.Decision!.At)
            .SingleOrDefaultAsync(cancel);
        return approvedAt is { } at && time.GetUtcNow() >= at.AddMinutes(settings.HoldMinutes);
    }

    /// <summary>The packet of a decision, without its files; null when there is no such decision.</summary>
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
        var version = decision.Version!;
        var (freeze, said) = await log.ProveBothAsync(version.FreezeLeafIndex!.Value, decision.LeafIndex, cancel);
        return new Packet(
            [.. version.ManifestBytes!],
            [.. decision.StatementBytes],
            decision.StatementText,
            [VerifierKey.Parse(log.VerifierKey)],
            freeze,
            said
        );
    }

    /// <summary>Writes the archive. Each file is compared with both its digests before the first byte leaves.</summary>
    public Task WritePacketAsync(Packet packet, Stream output, CancellationToken cancel = default) =>
        PacketWriter.WriteAsync(output, packet, file => files.Open(file.Sha256.Hex), cancel);
}
