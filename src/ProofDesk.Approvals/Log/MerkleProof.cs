using System.Collections.Immutable;

namespace ProofDesk.Approvals.Log;

/// <summary>Checking proofs without the tree, by the algorithms of RFC 9162 sections 2.1.3.2 and 2.1.4.2.</summary>
public static class MerkleProof
{
    /// <summary>Does this path lead from the leaf hash to the root?</summary>
    public static bool Includes(
        ReadOnlySpan<byte> root,
        long size,
        ReadOnlySpan<byte> leafHash,
        long index,
        IReadOnlyList<byte[]> path
    )
    {
        if (index < 0 || index >= size || path.Any(h => h.Length != 32))
        {
            return false;
        }

        var (node, last) = (index, size - 1);
        var hash = leafHash.ToArray();
        foreach (var sibling in path)
        {
            if (last == 0)
            {
                return false;
            }

            if ((node & 1) == 1 || node == last)
            {
                hash = MerkleTree.NodeHash(sibling, hash);
                while ((node & 1) == 0 && node != 0)
                {
                    (node, last) = (node >> 1, last >> 1);
                }
            }
            else
            {
                hash = MerkleTree.NodeHash(hash, sibling);
            }

            (node, last) = (node >> 1, last >> 1);
        }

        return last == 0 && root.SequenceEqual(hash);
    }

    /// <summary>Is the tree of <paramref name="newSize"/> leaves the old one with leaves added at its end?</summary>
    public static bool Extends(
        ReadOnlySpan<byte> oldRoot,
        long oldSize,
        ReadOnlySpan<byte> newRoot,
        long newSize,
        IReadOnlyList<byte[]> proof
    )
    {
        if (oldSize < 0 || oldSize > newSize || proof.Any(h => h.Length != 32))
        {
            return false;
        }

        if (oldSize == newSize)
        {
            return proof.Count == 0 && oldRoot.SequenceEqual(newRoot);
        }

        if (oldSize == 0)
        {
            return proof.Count == 0 && oldRoot.SequenceEqual(System.Security.Cryptography.SHA256.HashData([]));
        }

        var hashes = proof.ToImmutableArray();
        if (long.IsPow2(oldSize))
        {
            hashes = hashes.Insert(0, oldRoot.ToArray());
        }

        if (hashes.IsEmpty)
        {
            return false;
        }

        var (node, last) = (oldSize - 1, newSize - 1);
        while ((node & 1) == 1)
        {
            (node, last) = (node >> 1, last >> 1);
        }

        var (old, now) = (hashes[0], hashes[0]);
        foreach (var hash in hashes.Skip(1))
        {
            if (last == 0)
            {
                return false;
            }

            if ((node & 1) == 1 || node == last)
            {
                old = MerkleTree.NodeHash(hash, old);
                now = MerkleTree.NodeHash(hash, now);
                while ((node & 1) == 0 && node != 0)
                {
                    (node, last) = (node >> 1, last >> 1);
                }
            }
            else
            {
                now = MerkleTree.NodeHash(now, hash);
            }

            (node, last) = (node >> 1, last >> 1);
        }

        return last == 0 && oldRoot.SequenceEqual(old) && newRoot.SequenceEqual(now);
    }
}
