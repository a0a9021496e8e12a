using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Web.Production;

/// <summary>Writes what happened to a version into the log.</summary>
public sealed class Happenings(Office office, EventLog events)
{
    /// <summary>Decisions of a version whose personal data is gone.</summary>
    public static Task<List<Guid>> ErasedAsync(OfficeDb db, Guid versionId, CancellationToken cancel) =>
        db
            .Decisions.Where(row => row.VersionId == versionId && row.StatementBytes.Length == 0)
            .Select(row => row.Id)
            .ToListAsync(cancel);

    public async Task WriteAsync(
        ProofVersion version,
        EventKind kind,
        string actor,
        IEnumerable<(string Name, string? Value)> facts,
        CancellationToken cancel
    )
    {
        var said = facts
            .Where(fact => !string.IsNullOrWhiteSpace(fact.Value))
            .ToImmutableSortedDictionary(fact => fact.Name, fact => fact.Value!.Trim(), StringComparer.Ordinal);
        SealedLeaf? leaf = null;
        await office.WriteAsync(
            async db =>
            {
                (_, leaf) = await events.AppendAsync(
                    db,
                    new Happening(
                        kind,
                        actor,
                        said,
                        version.OrderId,
                        version.Id,
                        Sha256Digest.TryParseHex(version.ManifestSha256 ?? "", out var manifest) ? manifest : null
                    ),
                    CancellationToken.None
                );
            },
            cancel
        );
        await events.PublishAsync(leaf!, CancellationToken.None);
    }
}
