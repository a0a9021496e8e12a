using System.Collections.Immutable;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>An event in the log together with what proves it.</summary>
public sealed record SealedLeaf(long Index, DateTimeOffset At, string CheckpointNote, string TlogProof);

/// <summary>
/// The log: leaves are appended inside the transaction of their event, and the checkpoint that covers them is signed and stored
/// there too, so that the receipt mailed for the event can carry its own proof. A signature over a tree whose transaction then
/// fails is forgotten with it: nothing leaves the process before the commit.
/// The highest checkpoint that did get out is kept in a file beside the key, outside the database: a database put back from an old
/// backup is noticed because its log is shorter.
/// </summary>
public sealed class LogKeeper(Office office, DataFolder folder, OfficeSettings settings, TimeProvider time)
    : IDisposable
{
    private readonly Lock _cache = new();
    private readonly List<byte[]> _committed = [];
    private readonly SemaphoreSlim _publishing = new(1, 1);
    private LogHistory? _history;

    /// <summary>The log's name: of its newest epoch.</summary>
    public string Origin => History.Origin;

    /// <summary>The public key that signs now, as c2sp.org/signed-note writes it; printed in receipts.</summary>
    public string VerifierKey => History.Key.Verifier.ToString();

    /// <summary>Every key of this log, a line each, as a trust file has them.</summary>
    public string TrustText => History.Trust;

    internal LogHistory History =>
        _history ?? throw new InvalidOperationException("the log key is not loaded; open the office first");

    /// <summary>Loads or makes the key, and refuses to go on when the log is not the one this key signed last.</summary>
    public async Task OpenAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        await LoadAsync(db, cancel);
        // An empty log that signed before was emptied.
        if (await db.LogLeaves.AnyAsync(cancel) || await HighWaterAsync(cancel) is not null)
        {
            await PublishAsync(await SignAsync(db, LogSigning.Usual(History), cancel), cancel);
        }
        await WriteTrustAsync(cancel);
    }

    /// <summary>Reads epochs and keys, without a look at what was signed last.</summary>
    internal async Task LoadAsync(OfficeDb db, CancellationToken cancel)
    {
        _history = await LogHistory.ReadAsync(db, folder, settings.LogOrigin, cancel);
        lock (_cache)
        {
            _committed.Clear();
        }
    }

    /// <summary>The shop's keys for `proofdesk verify` on this machine: those that signed, and from which size a revoked one no longer counts.</summary>
    internal Task WriteTrustAsync(CancellationToken cancel) =>
        DurableFile.WriteAsync(folder.Trust, Encoding.UTF8.GetBytes(History.Trust), null, cancel);

    /// <summary>Newest checkpoint that was stored, or null for an empty log.</summary>
    public async Task<string?> CheckpointAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .LogCheckpoints.OrderByDescending(row => row.Size)
            .Select(row => row.Note)
            .FirstOrDefaultAsync(cancel);
    }

    /// <summary>Proof of one leaf against the newest checkpoint.</summary>
    public async Task<SealedLeaf> ProveAsync(long index, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var leaf = await db.LogLeaves.AsNoTracking().SingleAsync(row => row.Index == index, cancel);
        var checkpoint = await db.LogCheckpoints.AsNoTracking().OrderByDescending(row => row.Size).FirstAsync(cancel);
        var proof = TlogProof.Of(await TreeAsync(db, cancel), (int)index, checkpoint.Note);
        return new SealedLeaf(index, leaf.At, checkpoint.Note, proof.Write());
    }

    /// <summary>
    /// Two proofs against one checkpoint: the one signed with <paramref name="second"/>, so that a packet has the same bytes however far
    /// the log has grown since; a later one when every key that signed it was revoked from an earlier size on.
    /// </summary>
    internal async Task<(string First, string Second, ImmutableArray<VerifierKey> Keys)> ProveBothAsync(
        long first,
        long second,
        CancellationToken cancel
    )
    {
        await using var db = office.Open();
        var (note, signers) = await CountingAsync(db, second + 1, cancel);
        var size = Checkpoint.ReadUnverified(note).Size;
        var leaves = await db
            .LogLeaves.AsNoTracking()
            .Where(row => row.Index < size)
            .OrderBy(row => row.Index)
            .Select(row => row.LeafHash)
            .ToListAsync(cancel);
        var tree = MerkleTree.Of(leaves);
        return (TlogProof.Of(tree, (int)first, note).Write(), TlogProof.Of(tree, (int)second, note).Write(), signers);
    }

    /// <summary>The first checkpoint from this size on that is signed by a key that counts for it.</summary>
    private async Task<(string Note, ImmutableArray<VerifierKey> Signers)> CountingAsync(
        OfficeDb db,
        long from,
        CancellationToken cancel
    )
    {
        var notes = db.LogCheckpoints.AsNoTracking().Where(row => row.Size >= from).OrderBy(row => row.Size);
        await foreach (var row in notes.AsAsyncEnumerable().WithCancellation(cancel))
        {
            var signers = SignedNote.Open(row.Note, History.Known).Signers;
            if (signers.Any(key => History.Counts(key, row.Size)))
            {
                return (row.Note, signers);
            }
        }
        throw new LogRefusedException(
            $"no checkpoint from {from} entries on is signed by a key that still counts; append an event, then ask again"
        );
    }

    /// <summary>
    /// Takes the log for this transaction and gives the time of its next event: never before the last one, whatever the clock says.
    /// </summary>
    internal async Task<DateTimeOffset> TakeAsync(OfficeDb db, CancellationToken cancel)
    {
        var head = await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var whole = new DateTimeOffset(now.UtcTicks - (now.UtcTicks % TimeSpan.TicksPerMillisecond), TimeSpan.Zero);
        return whole > head.LastAt ? whole : head.LastAt.AddMilliseconds(1);
    }

    /// <summary>Appends, signs and stores the checkpoint in the caller's transaction; after the commit call <see cref="PublishAsync"/>.</summary>
    internal async Task<SealedLeaf> AppendAsync(
        OfficeDb db,
        LeafType kind,
        Sha256Digest digest,
        Guid reference,
        DateTimeOffset at,
        CancellationToken cancel,
        LogSigning? signing = null
    )
    {
        var head = await db.LockLogHeadAsync(cancel);
        var leaf = new LogLeaf
        {
            Index = head.Size,
            Kind = kind,
            LeafHash = Approvals.Log.LogLeaf.Hash(kind, digest),
            EventSha256 = digest.Hex,
            Ref = reference,
            At = at,
        };
        db.LogLeaves.Add(leaf);
        head.Size++;
        head.LastAt = at;
        await db.SaveChangesAsync(cancel);
        Fault.Point("log.after-leaf");
        var note = await SignAsync(db, signing ?? LogSigning.Usual(History), cancel);
        Fault.Point("log.after-signature");
        db.LogCheckpoints.Add(
            new LogCheckpoint
            {
                Size = head.Size,
                Note = note,
                At = at,
            }
        );
        await db.SaveChangesAsync(cancel);
        var proof = TlogProof.Of(await TreeAsync(db, cancel), (int)leaf.Index, note);
        return new SealedLeaf(leaf.Index, at, note, proof.Write());
    }

    /// <summary>After the commit: remembers the leaves and moves the high-water mark up.</summary>
    internal async Task PublishAsync(string note, CancellationToken cancel)
    {
        await _publishing.WaitAsync(cancel);
        try
        {
            var size = Checkpoint.ReadUnverified(note).Size;
            if ((await HighWaterAsync(cancel))?.Size is { } highest && highest >= size)
            {
                return; // the mark only goes up, and that of an epoch before counts for nothing
            }
            Fault.Point("log.before-high-water");
            await DurableFile.WriteAsync(folder.LogHighWater, Encoding.UTF8.GetBytes(note), null, cancel);
            await using var db = office.Open();
            await RememberAsync(db, size, cancel);
        }
        finally
        {
            _publishing.Release();
        }
    }

    public void Dispose() => _publishing.Dispose();

    private async Task<string> SignAsync(OfficeDb db, LogSigning signing, CancellationToken cancel)
    {
        var highest = signing.NewEpoch ? null : await HighWaterAsync(cancel);
        var signed = CheckpointSigner.Sign(await TreeAsync(db, cancel), signing.Origin, highest, [.. signing.Keys]);
        return signed.Note
            ?? throw new LogRefusedException(
                signed.Refusal!
                    + "; if they are gone for good, 'proofdesk log-epoch open' lets the log go on under a new name"
            );
    }

    /// <summary>The highest checkpoint of this epoch that left the house; null when none did.</summary>
    internal async Task<Checkpoint?> HighWaterAsync(CancellationToken cancel)
    {
        if (!File.Exists(folder.LogHighWater))
        {
            return null;
        }
        var note = await File.ReadAllTextAsync(folder.LogHighWater, cancel);
        // An epoch was opened and the process ended before the mark was replaced: the mark is the one that the epoch left behind.
        if (note == History.LostNote)
        {
            return null;
        }
        // A database put back from before an epoch does not know that epoch's name; the key file still has its key.
        var named = await LogKeyFile.ReadAsync(folder.LogKey, Checkpoint.ReadUnverified(note).Origin, cancel);
        return Checkpoint.Open(note, [.. History.Known, named.Verifier]);
    }

    private async Task<MerkleTree> TreeAsync(OfficeDb db, CancellationToken cancel)
    {
        byte[][] known;
        lock (_cache)
        {
            known = [.. _committed];
        }
        var later = await db
            .LogLeaves.AsNoTracking()
            .Where(row => row.Index >= known.Length)
            .OrderBy(row => row.Index)
            .Select(row => row.LeafHash)
            .ToListAsync(cancel);
        return MerkleTree.Of(known.Concat(later));
    }

    private async Task RememberAsync(OfficeDb db, long size, CancellationToken cancel)
    {
        int from;
        lock (_cache)
        {
            from = _committed.Count;
        }
        var later = await db
            .LogLeaves.AsNoTracking()
            .Where(row => row.Index >= from && row.Index < size)
            .OrderBy(row => row.Index)
            .Select(row => row.LeafHash)
            .ToListAsync(cancel);
        lock (_cache)
        {
            if (_committed.Count == from)
            {
                _committed.AddRange(later);
            }
        }
    }
}

/// <summary>The log will not sign: what it holds does not continue what it signed before. The message says what to restore.</summary>
public sealed class LogRefusedException(string message) : InvalidOperationException(message);
