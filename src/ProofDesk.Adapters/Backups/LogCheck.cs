using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;
using LogLeaf = ProofDesk.Adapters.Database.LogLeaf;

namespace ProofDesk.Adapters.Backups;

/// <summary>The leaves in their order, the head, every checkpoint, and the mark kept outside the database.</summary>
internal sealed class LogCheck
{
    private readonly List<LogLeaf> _leaves;
    private readonly HashSet<long> _claimed = [];
    private readonly StoreFindings _found;

    private LogCheck(List<LogLeaf> leaves, StoreFindings found)
    {
        _leaves = leaves;
        _found = found;
    }

    public static async Task<LogCheck> ReadAsync(OfficeDb db, StoreFindings found, CancellationToken cancel)
    {
        var leaves = new List<LogLeaf>();
        try
        {
            await foreach (
                var leaf in db
                    .LogLeaves.AsNoTracking()
                    .OrderBy(row => row.Index)
                    .AsAsyncEnumerable()
                    .WithCancellation(cancel)
            )
            {
                leaves.Add(leaf);
            }
        }
        catch (Exception broken) when (broken is InvalidOperationException or FormatException or ArgumentException)
        {
            found.Wrong("leaf.unreadable", $"leaf {leaves.Count} of the log cannot be read: {broken.Message}");
        }
        found.Count("leaves", leaves.Count);
        return new LogCheck(leaves, found);
    }

    /// <summary>The leaf at this index must stand for exactly this.</summary>
    public void Claim(long index, LeafType kind, string sha256, Guid reference, DateTimeOffset? at, string what)
    {
        if (index < 0 || index >= _leaves.Count)
        {
            _found.Wrong("leaf.missing", $"{what} names leaf {index}, the log has {_leaves.Count}");
            return;
        }
        var leaf = _leaves[(int)index];
        if (!_claimed.Add(index))
        {
            _found.Wrong("leaf.twice", $"{what} names leaf {index}, which stands for something else already");
        }
        if (
            leaf.Kind != kind
            || leaf.Ref != reference
            || !string.Equals(leaf.EventSha256, sha256, StringComparison.Ordinal)
        )
        {
            _found.Wrong(
                "leaf.other",
                $"{what} is not what leaf {index} stands for: the leaf says {leaf.Kind} {leaf.EventSha256} of {leaf.Ref}"
            );
        }
        if (at != leaf.At)
        {
            _found.Wrong("leaf.time", $"{what} has the time {at:O}, leaf {index} has {leaf.At:O}");
        }
    }

    public async Task RunAsync(
        OfficeDb db,
        DataFolder folder,
        IReadOnlyList<VerifierKey> given,
        CancellationToken cancel
    )
    {
        Leaves();
        var head = await db.LogHeads.AsNoTracking().SingleOrDefaultAsync(cancel);
        var last = _leaves.Count == 0 ? DateTimeOffset.UnixEpoch : _leaves[^1].At;
        if (head is null || head.Size != _leaves.Count || head.LastAt != last)
        {
            _found.Wrong(
                "head.other",
                $"the head of the log says {head?.Size} leaves, the last of {head?.LastAt:O}; there are {_leaves.Count}, the last of {last:O}"
            );
        }
        var hashes = _leaves.Select(leaf => leaf.LeafHash).ToList();
        if (hashes.Exists(hash => hash.Length != 32))
        {
            return; // Said already; a tree cannot be built over it.
        }
        var tree = MerkleTree.Of(hashes);
        var keys = given.Count > 0 ? given : await OwnKeysAsync(db, folder, cancel);
        await CheckpointsAsync(db, tree, keys, cancel);
        await HighWaterAsync(folder, tree, keys, cancel);
        await KeyAsync(folder, keys, cancel);
    }

    private void Leaves()
    {
        for (var i = 0; i < _leaves.Count; i++)
        {
            var leaf = _leaves[i];
            if (leaf.Index != i)
            {
                _found.Wrong("leaf.gap", $"the log jumps to leaf {leaf.Index} where {i} should be");
                return;
            }
            if (
                !Sha256Digest.TryParseHex(leaf.EventSha256, out var digest)
                || !Approvals.Log.LogLeaf.Hash(leaf.Kind, digest).AsSpan().SequenceEqual(leaf.LeafHash)
            )
            {
                _found.Wrong("leaf.hash", $"leaf {i} does not hash to what the log holds for it");
            }
            if (i > 0 && leaf.At <= _leaves[i - 1].At)
            {
                _found.Wrong("leaf.order", $"leaf {i} is not later than the one before it");
            }
            if (!_claimed.Contains(i))
            {
                _found.Wrong(
                    "leaf.of-nothing",
                    $"leaf {i} ({leaf.Kind}) stands for {leaf.Ref}, which is not in the database"
                );
            }
        }
    }

    private async Task CheckpointsAsync(
        OfficeDb db,
        MerkleTree tree,
        IReadOnlyList<VerifierKey> keys,
        CancellationToken cancel
    )
    {
        var size = 0L;
        await foreach (
            var row in db
                .LogCheckpoints.AsNoTracking()
                .OrderBy(row => row.Size)
                .AsAsyncEnumerable()
                .WithCancellation(cancel)
        )
        {
            size++;
            _found.Count("checkpoints");
            if (row.Size != size)
            {
                _found.Wrong("checkpoint.gap", $"the checkpoint of size {size} is missing, the next is of {row.Size}");
                size = row.Size;
            }
            Compare(row.Note, row.Size, tree, keys, "checkpoint");
            if (row.Size <= _leaves.Count && row.Size > 0 && row.At != _leaves[(int)row.Size - 1].At)
            {
                _found.Wrong(
                    "checkpoint.time",
                    $"the checkpoint of size {row.Size} has another time than its last leaf"
                );
            }
        }
        if (size != _leaves.Count)
        {
            _found.Wrong(
                "checkpoint.missing",
                $"the newest checkpoint covers {size} leaves, the log has {_leaves.Count}"
            );
        }
    }

    // The file may lag behind by what was committed just before a crash; it is never ahead.
    private async Task HighWaterAsync(
        DataFolder folder,
        MerkleTree tree,
        IReadOnlyList<VerifierKey> keys,
        CancellationToken cancel
    )
    {
        if (!File.Exists(folder.LogHighWater))
        {
            if (_leaves.Count > 1)
            {
                _found.Wrong(
                    "high-water.missing",
                    $"{folder.LogHighWater} is missing though the log has {_leaves.Count} leaves; restore keys/ from the backup"
                );
            }
            return;
        }
        Compare(await File.ReadAllTextAsync(folder.LogHighWater, cancel), null, tree, keys, "high-water");
    }

    // Without it the log cannot go on; another one in its place would sign what nobody trusts. A copy without keys/ has no mark either,
    // which is said above.
    private async Task KeyAsync(DataFolder folder, IReadOnlyList<VerifierKey> keys, CancellationToken cancel)
    {
        if (!File.Exists(folder.LogHighWater))
        {
            return;
        }
        if (!File.Exists(folder.LogKey))
        {
            _found.Wrong("log-key.missing", $"{folder.LogKey} is missing; restore keys/ from the backup");
            return;
        }
        try
        {
            foreach (var origin in keys.Select(key => key.Name).Distinct(StringComparer.Ordinal))
            {
                if (keys.Contains((await LogKeyFile.ReadAsync(folder.LogKey, origin, cancel)).Verifier))
                {
                    return;
                }
            }
            _found.Wrong(
                "log-key.other",
                $"{folder.LogKey} is not the key of any that this log names; restore keys/ from the backup"
            );
        }
        catch (Exception broken) when (broken is LogRefusedException or RecordFormatException or FormatException)
        {
            _found.Wrong(
                "log-key.unreadable",
                $"{folder.LogKey} is not a log key: {broken.Message}; restore keys/ from the backup"
            );
        }
        // Who may not read the key may still look at everything else.
        catch (UnauthorizedAccessException) { }
    }

    private void Compare(string note, long? rowSize, MerkleTree tree, IReadOnlyList<VerifierKey> keys, string what)
    {
        Checkpoint head;
        try
        {
            head = Checkpoint.Open(note, [.. keys]);
        }
        catch (RecordFormatException wrong)
        {
            _found.Wrong($"{what}.unsigned", $"the {what} {rowSize} does not hold: {wrong.Message}");
            return;
        }
        if (!keys.Any(key => string.Equals(key.Name, head.Origin, StringComparison.Ordinal)))
        {
            _found.Wrong($"{what}.origin", $"the {what} of size {head.Size} is of another log, {head.Origin}");
        }
        if (rowSize is { } size && size != head.Size)
        {
            _found.Wrong($"{what}.size", $"the {what} stored for size {size} was signed for {head.Size}");
        }
        if (head.Size > tree.Size)
        {
            _found.Wrong(
                $"{what}.ahead",
                $"the {what} was signed over {head.Size} leaves, the log has {tree.Size}: "
                    + $"{head.Size - tree.Size} are lost (an older backup was put back); the log will not sign"
            );
        }
        else if (!head.Root.AsSpan().SequenceEqual(tree.Root((int)head.Size)))
        {
            _found.Wrong($"{what}.root", $"the first {head.Size} leaves are not those the {what} was signed over");
        }
    }

    private static async Task<IReadOnlyList<VerifierKey>> OwnKeysAsync(
        OfficeDb db,
        DataFolder folder,
        CancellationToken cancel
    )
    {
        var text = File.Exists(folder.Trust) ? await File.ReadAllTextAsync(folder.Trust, cancel) : "";
        var rows = await db.LogKeys.AsNoTracking().Select(row => row.VerifierKey).ToListAsync(cancel);
        return
        [
            .. TrustFile
                .Parse(text, folder.Trust)
                .Select(trusted => trusted.Key)
                .Concat(rows.Select(VerifierKey.Parse))
                .Distinct(),
        ];
    }
}
