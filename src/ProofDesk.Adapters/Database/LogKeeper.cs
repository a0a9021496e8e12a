using System.Security.Cryptography;
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
    private SigningKey? _key;

    public string Origin => settings.LogOrigin;

    /// <summary>The public key as c2sp.org/signed-note writes it; printed in receipts and packets.</summary>
    public string VerifierKey => Key.Verifier.ToString();

    private SigningKey Key =>
        _key ?? throw new InvalidOperationException("the log key is not loaded; open the office first");

    /// <summary>Loads or makes the key, and refuses to go on when the log is not the one this key signed last.</summary>
    public async Task OpenAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var size = await db.LogLeaves.LongCountAsync(cancel);
        _key = await LogKeyFile.OpenAsync(folder.LogKey, Origin, size, cancel);
        await DurableFile.WriteAsync(folder.Trust, Encoding.UTF8.GetBytes(VerifierKey + "\n"), null, cancel);
        if (size > 0)
        {
            await PublishAsync(await SignAsync(db, cancel), cancel);
        }
    }

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
    /// Two proofs against one checkpoint: the one signed with <paramref name="second"/>, so that a packet has the same bytes
    /// however far the log has grown since.
    /// </summary>
    internal async Task<(string First, string Second)> ProveBothAsync(long first, long second, CancellationToken cancel)
    {
        await using var db = office.Open();
        var note = await db
            .LogCheckpoints.Where(row => row.Size == second + 1)
            .Select(row => row.Note)
            .SingleAsync(cancel);
        var leaves = await db
            .LogLeaves.AsNoTracking()
            .Where(row => row.Index <= second)
            .OrderBy(row => row.Index)
            .Select(row => row.LeafHash)
            .ToListAsync(cancel);
        var tree = MerkleTree.Of(leaves);
        return (TlogProof.Of(tree, (int)first, note).Write(), TlogProof.Of(tree, (int)second, note).Write());
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
        CancellationToken cancel
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
        var note = await SignAsync(db, cancel);
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
                return;
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

    private async Task<string> SignAsync(OfficeDb db, CancellationToken cancel)
    {
        var signed = CheckpointSigner.Sign(await TreeAsync(db, cancel), Origin, await HighWaterAsync(cancel), Key);
        return signed.Note ?? throw new LogRefusedException(signed.Refusal!);
    }

    private async Task<Checkpoint?> HighWaterAsync(CancellationToken cancel) =>
        File.Exists(folder.LogHighWater)
            ? Checkpoint.Open(await File.ReadAllTextAsync(folder.LogHighWater, cancel), [Key.Verifier])
            : null;

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

/// <summary>32 seed bytes in a file of their own, readable by the server's user only.</summary>
internal static class LogKeyFile
{
    private const string FirstLine = "proofdesk-log-key/1 ";

    public static async Task<SigningKey> OpenAsync(string path, string origin, long logSize, CancellationToken cancel)
    {
        if (!File.Exists(path))
        {
            if (logSize > 0)
            {
                throw new LogRefusedException(
                    $"the log has {logSize} leaves but its key {path} is missing; restore the keys folder from the backup"
                );
            }
            var text = FirstLine + Convert.ToBase64String(RandomNumberGenerator.GetBytes(32)) + "\n";
            await DurableFile.WriteAsync(
                path,
                Encoding.ASCII.GetBytes(text),
                UnixFileMode.UserRead | UnixFileMode.UserWrite,
                cancel
            );
        }
        var line = (await File.ReadAllTextAsync(path, cancel)).TrimEnd('\n');
        return line.StartsWith(FirstLine, StringComparison.Ordinal)
            ? new SigningKey(origin, Convert.FromBase64String(line[FirstLine.Length..]))
            : throw new LogRefusedException(
                $"{path} is not a log key: its first line must begin with \"{FirstLine.TrimEnd()}\""
            );
    }
}
