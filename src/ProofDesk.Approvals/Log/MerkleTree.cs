using System.Collections.Immutable;
using System.Numerics;
using System.Security.Cryptography;

namespace ProofDesk.Approvals.Log;

/// <summary>
/// The hash tree of RFC 6962 section 2.1. Leaves and nodes are hashed with different first bytes, so a node can never
/// be passed off as a leaf. Hashes of complete subtrees are kept: root and proofs take O(log n) hashes.
/// </summary>
public sealed class MerkleTree
{
    private readonly List<List<byte[]>> levels =
    [
        [],
    ];

    private MerkleTree() { }

    /// <summary>Number of leaves.</summary>
    public int Size => levels[0].Count;

    /// <summary>The tree over these leaf hashes, in log order.</summary>
    public static MerkleTree Of(IEnumerable<byte[]> leafHashes)
    {
        var tree = new MerkleTree();
        foreach (var hash in leafHashes)
        {
            tree.Add(hash);
        }

        return tree;
    }

    /// <summary>SHA-256(0x00 || data).</summary>
    public static byte[] LeafHash(ReadOnlySpan<byte> data)
    {
        var prefixed = new byte[data.Length + 1];
        data.CopyTo(prefixed.AsSpan(1));
        return SHA256.HashData(prefixed);
    }

    /// <summary>SHA-256(0x01 || left || right).</summary>
    public static byte[] NodeHash(ReadOnlySpan<byte> left, ReadOnlySpan<byte> right)
    {
        Span<byte> node = stackalloc byte[65];
        node[0] = 1;
        left.CopyTo(node[1..]);
        right.CopyTo(node[33..]);
        return SHA256.HashData(node);
    }

    /// <summary>Root of the first <paramref name="size"/> leaves; of no leaves, the hash of nothing.</summary>
    public byte[] Root(int size) => InRange(size, Size) == 0 ? SHA256.HashData([]) : Subtree(0, size);

    public byte[] Root() => Root(Size);

    /// <summary>PATH(index, D[0:size]) of RFC 6962 section 2.1.1: from the leaf's sibling up to the root's child.</summary>
    public ImmutableArray<byte[]> Inclusion(int index, int size)
    {
        InRange(size, Size);
        if (index < 0 || index >= size)
        {
            throw new ArgumentOutOfRangeException(nameof(index), index, $"the tree has {size} leaves");
        }

        var path = ImmutableArray.CreateBuilder<byte[]>();
        for (int low = 0, high = size; high - low > 1; )
        {
            var split = low + Split(high - low);
            if (index < split)
            {
                path.Add(Subtree(split, high));
                high = split;
            }
            else
            {
                path.Add(Subtree(low, split));
                low = split;
            }
        }

        path.Reverse();
        return path.ToImmutable();
    }

    /// <summary>PROOF(old, D[0:size]) of RFC 6962 section 2.1.2.</summary>
    public ImmutableArray<byte[]> Consistency(int oldSize, int size)
    {
        InRange(size, Size);
        InRange(oldSize, size);
        var proof = ImmutableArray.CreateBuilder<byte[]>();
        if (oldSize == 0 || oldSize == size)
        {
            return [];
        }

        var whole = true;
        var (low, high) = (0, size);
        while (oldSize != high)
        {
            var split = low + Split(high - low);
            if (oldSize <= split)
            {
                proof.Add(Subtree(split, high));
                high = split;
            }
            else
            {
                proof.Add(Subtree(low, split));
                low = split;
                whole = false;
            }
        }

        if (!whole)
        {
            proof.Add(Subtree(low, high));
        }

        proof.Reverse();
        return proof.ToImmutable();
    }

    private void Add(byte[] hash)
    {
        if (hash.Length != 32)
        {
            throw new ArgumentException($"leaf {Size} has a hash of {hash.Length} bytes, not 32", nameof(hash));
        }

        levels[0].Add(hash);
        for (var level = 0; levels[level].Count % 2 == 0; level++)
        {
            if (levels.Count == level + 1)
            {
                levels.Add([]);
            }

            levels[level + 1].Add(NodeHash(levels[level][^2], levels[level][^1]));
        }
    }

    private byte[] Subtree(int low, int high)
    {
        var width = high - low;
        if (BitOperations.IsPow2(width))
        {
            var level = BitOperations.Log2((uint)width);
            return levels[level][low >> level];
        }

        var split = low + Split(width);
        return NodeHash(Subtree(low, split), Subtree(split, high));
    }

    /// <summary>The largest power of two below n.</summary>
    private static int Split(int n) => 1 << BitOperations.Log2((uint)(n - 1));

    private static int InRange(int size, int limit) =>
        size >= 0 && size <= limit
            ? size
            : throw new ArgumentOutOfRangeException(nameof(size), size, $"the tree has {limit} leaves");
}
