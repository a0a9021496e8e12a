using System.Collections.Immutable;
using System.Security.Cryptography;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>What happened, to what, and by whom.</summary>
/// <param name="Manifest">Of the version it happened to, when it has one.</param>
public sealed record Happening(
    EventKind Kind,
    string Actor,
    ImmutableSortedDictionary<string, string> Facts,
    Guid? OrderId = null,
    Guid? VersionId = null,
    Sha256Digest? Manifest = null,
    Guid? SubjectId = null
);

/// <summary>Writes events beside decisions into the log: the row, its leaf and the checkpoint in the caller's transaction.</summary>
public sealed class EventLog(LogKeeper log)
{
    /// <summary>
    /// Call it inside <see cref="Office.WriteAsync{T}"/>, then give the returned note to <see cref="PublishAsync"/> once that is through.
    /// </summary>
    public Task<(LoggedEvent Row, SealedLeaf Leaf)> AppendAsync(
        OfficeDb db,
        Happening happening,
        CancellationToken cancel
    ) => AppendAsync(db, happening, null, cancel);

    /// <param name="signing">by whom the checkpoint is signed when it is not as usual</param>
    internal async Task<(LoggedEvent Row, SealedLeaf Leaf)> AppendAsync(
        OfficeDb db,
        Happening happening,
        LogSigning? signing,
        CancellationToken cancel
    )
    {
        var at = await log.TakeAsync(db, cancel);
        var bytes = EventJson.Write(
            new ShopEvent(
                happening.Kind,
                happening.Manifest,
                happening.Actor,
                happening.Facts,
                at,
                [.. RandomNumberGenerator.GetBytes(32)]
            )
        );
        var digest = Sha256Digest.Of(bytes);
        var row = new LoggedEvent
        {
            Kind = happening.Kind,
            OrderId = happening.OrderId,
            VersionId = happening.VersionId,
            SubjectId = happening.SubjectId,
            Actor = happening.Actor,
            EventBytes = bytes,
            EventSha256 = digest.Hex,
            At = at,
        };
        var leaf = await log.AppendAsync(db, EventJson.Parse(bytes).Family, digest, row.Id, at, cancel, signing);
        row.LeafIndex = leaf.Index;
        db.LoggedEvents.Add(row);
        await db.SaveChangesAsync(cancel);
        return (row, leaf);
    }

    /// <summary>After the commit.</summary>
    public Task PublishAsync(SealedLeaf leaf, CancellationToken cancel = default) =>
        log.PublishAsync(leaf.CheckpointNote, cancel);
}
