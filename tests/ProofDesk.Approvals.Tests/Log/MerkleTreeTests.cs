using System.Collections.Immutable;
using System.Security.Cryptography;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Log;

/// <summary>
/// The tree of RFC 6962. Leaves, roots and proofs below are the published test values of the certificate transparency
/// reference implementation (the same eight leaves are used by most implementations of the RFC).
/// </summary>
public sealed class MerkleTreeTests
{
    private static readonly string[] Leaves =
    [
        "",
        "00",
        "10",
        "2021",
        "3031",
        "40414243",
        "5051525354555657",
        "606162636465666768696a6b6c6d6e6f",
    ];

    private static readonly string[] Roots =
    [
        "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
        "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
        "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
        "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
        "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
        "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
        "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
        "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
        "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
    ];

    [Fact]
    public void Roots_are_the_published_ones()
    {
        var tree = Published();

        Assert.Equal(Roots, Enumerable.Range(0, 9).Select(n => Convert.ToHexStringLower(tree.Root(n))));
    }

    [Theory]
    [InlineData(
        0,
        8,
        "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7 5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e 6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4"
    )]
    [InlineData(
        5,
        8,
        "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0 d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"
    )]
    public void Inclusion_proofs_are_the_published_ones(int index, int size, string path) =>
        Assert.Equal(path, Hex(Published().Inclusion(index, size)));

    [Theory]
    [InlineData(1, 1, "")]
    [InlineData(
        1,
        8,
        "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7 5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e 6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4"
    )]
    [InlineData(
        6,
        8,
        "0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0 d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"
    )]
    [InlineData(
        2,
        5,
        "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b"
    )]
    public void Consistency_proofs_are_the_published_ones(int oldSize, int size, string proof) =>
        Assert.Equal(proof, Hex(Published().Consistency(oldSize, size)));

    [Fact]
    public void Every_leaf_of_every_tree_to_256_leaves_is_proven_and_no_other_place_is()
    {
        var tree = MerkleTree.Of(LeafHashes(256));
        for (var size = 1; size <= 256; size++)
        {
            var root = tree.Root(size);
            for (var index = 0; index < size; index++)
            {
                var (leaf, path) = (LeafHash(index), tree.Inclusion(index, size));
                Assert.True(MerkleProof.Includes(root, size, leaf, index, path), $"leaf {index} of {size}");
                Assert.False(
                    MerkleProof.Includes(root, size, leaf, (index + 1) % (size + 1), path),
                    $"leaf {index} of {size}, moved"
                );
                Assert.False(
                    MerkleProof.Includes(root, size, LeafHash(index + 1), index, path),
                    $"leaf {index} of {size}, swapped"
                );
                Assert.False(
                    MerkleProof.Includes(root, size, leaf, index, path.Add(leaf)),
                    $"leaf {index} of {size}, longer"
                );
            }
        }
    }

    [Fact]
    public void Every_pair_of_trees_to_256_leaves_is_consistent_and_no_fork_is()
    {
        var tree = MerkleTree.Of(LeafHashes(256));
        var roots = Enumerable.Range(0, 257).Select(tree.Root).ToList();
        var forks = Enumerable
            .Range(0, 257)
            .Select(MerkleTree.Of(LeafHashes(256).Select((h, i) => i == 0 ? LeafHash(999) : h)).Root)
            .ToList();
        for (var size = 1; size <= 256; size++)
        {
            for (var old = 1; old <= size; old++)
            {
                var proof = tree.Consistency(old, size);
                Assert.True(MerkleProof.Extends(roots[old], old, roots[size], size, proof), $"{old} to {size}");
                Assert.False(
                    MerkleProof.Extends(forks[old], old, roots[size], size, proof),
                    $"{old} to {size}, forked before"
                );
                Assert.False(
                    MerkleProof.Extends(roots[old], old, forks[size], size, proof),
                    $"{old} to {size}, forked after"
                );
                Assert.False(
                    MerkleProof.Extends(roots[old], old, roots[size], size, proof.Add(roots[1])),
                    $"{old} to {size}, longer"
                );
            }
        }
    }

    // Second opinion: the recursive definitions of RFC 6962 in another language (rfc6962_tree.py).
    [SkippableFact]
    public void Every_root_and_proof_to_256_leaves_is_the_one_of_the_rfcs_own_definitions()
    {
        var tree = MerkleTree.Of(LeafHashes(256));
        using var everything = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        for (var size = 1; size <= 256; size++)
        {
            everything.AppendData(tree.Root(size));
            var proofs = Enumerable
                .Range(0, size)
                .Select(index => tree.Inclusion(index, size))
                .Concat(Enumerable.Range(1, size).Select(old => tree.Consistency(old, size)));
            foreach (var hash in proofs.SelectMany(proof => proof))
            {
                everything.AppendData(hash);
            }
        }

        Assert.Equal(
            Python.Run(Path.Combine("Log", "rfc6962_tree.py"), "256"),
            Convert.ToHexStringLower(everything.GetHashAndReset())
        );
    }

    [Fact]
    public void A_proof_with_a_changed_hash_proves_nothing()
    {
        var tree = MerkleTree.Of(LeafHashes(21));
        var path = tree.Inclusion(12, 21);
        foreach (var i in Enumerable.Range(0, path.Length))
        {
            var bent = path.SetItem(i, [.. path[i].Select((b, k) => k == 31 ? (byte)(b ^ 1) : b)]);
            Assert.False(MerkleProof.Includes(tree.Root(), 21, LeafHash(12), 12, bent));
            Assert.False(MerkleProof.Includes(tree.Root(), 21, LeafHash(12), 12, path.RemoveAt(i)));
        }
    }

    [Fact]
    public void A_node_cannot_pass_for_a_leaf()
    {
        byte[] twoHashes = [.. LeafHash(0), .. LeafHash(1)];

        Assert.NotEqual(MerkleTree.NodeHash(LeafHash(0), LeafHash(1)), MerkleTree.LeafHash(twoHashes));
    }

    [Fact]
    public void The_leaf_of_a_decision_is_three_lines()
    {
        var digest = Sha256Digest.Of("statement"u8);

        Assert.Equal(
            $"proofdesk-leaf/1\ndecision\nsha256:{digest.Hex}",
            Samples.Ascii(LogLeaf.Data(LeafType.Decision, digest))
        );
        Assert.Equal(
            4,
            Enum.GetValues<LeafType>()
                .Select(t => Convert.ToHexString(LogLeaf.Hash(t, digest)))
                .Distinct(StringComparer.Ordinal)
                .Count()
        );
    }

    internal static IEnumerable<byte[]> LeafHashes(int count) => Enumerable.Range(0, count).Select(LeafHash);

    private static byte[] LeafHash(int i) => MerkleTree.LeafHash(BitConverter.GetBytes(i));

    private static MerkleTree Published() =>
        MerkleTree.Of(Leaves.Select(l => MerkleTree.LeafHash(Convert.FromHexString(l))));

    private static string Hex(ImmutableArray<byte[]> hashes) =>
        string.Join(' ', hashes.Select(Convert.ToHexStringLower));
}
