using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Log;

public sealed class TlogProofTests
{
    // The form of the example of c2sp.org/tlog-proof; its signatures are shortened there, so the example itself cannot be read.
    [Fact]
    public void A_proof_is_written_as_the_format_says()
    {
        var tree = MerkleTree.Of(MerkleTreeTests.LeafHashes(3));
        var note = Checkpoint.Of("log.example", tree).Sign(new SigningKey("log.example", Samples.Bytes(32, 1)));

        var text = (TlogProof.Of(tree, 2, note) with { Extra = "hint"u8.ToArray() }).Write();

        var left = MerkleTree.NodeHash(
            MerkleTreeTests.LeafHashes(3).First(),
            MerkleTreeTests.LeafHashes(3).ElementAt(1)
        );
        Assert.Equal(
            $"c2sp.org/tlog-proof@v1\nextra aGludA==\nindex 2\n{Convert.ToBase64String(left)}\n\n{note}",
            text
        );
        Assert.Equal(text, TlogProof.Parse(text).Write());
    }

    [Fact]
    public void The_only_leaf_of_a_log_has_an_empty_path()
    {
        var tree = MerkleTree.Of(MerkleTreeTests.LeafHashes(1));
        var text = TlogProof.Of(tree, 0, Checkpoint.Of(Samples.Origin, tree).Sign(Samples.Key)).Write();

        Assert.StartsWith(
            "c2sp.org/tlog-proof@v1\nindex 0\n\nlindhag.example/proofs/1\n1\n",
            text,
            StringComparison.Ordinal
        );
        Assert.Equal(
            1,
            TlogProof.Parse(text).Verify(MerkleTreeTests.LeafHashes(1).First(), [Samples.Key.Verifier]).Size
        );
    }

    [Fact]
    public void A_proof_of_another_leaf_is_refused()
    {
        var tree = MerkleTree.Of(MerkleTreeTests.LeafHashes(9));
        var proof = TlogProof.Of(tree, 4, Checkpoint.Of(Samples.Origin, tree).Sign(Samples.Key));

        Assert.Equal(
            "the path of leaf 4 does not lead to the root of the log of 9 leaves",
            Assert
                .Throws<RecordFormatException>(() =>
                    proof.Verify(MerkleTreeTests.LeafHashes(9).ElementAt(5), [Samples.Key.Verifier])
                )
                .Message
        );
    }

    [Theory]
    [InlineData(
        "c2sp.org/tlog-proof@v2\nindex 0\n\nx",
        "not a proof: the first line must be 'c2sp.org/tlog-proof@v1', an empty line must stand before the checkpoint"
    )]
    [InlineData("c2sp.org/tlog-proof@v1\nindex 00\n\nx", "line 2 of the proof is not 'index' and a whole number")]
    [InlineData("c2sp.org/tlog-proof@v1\n\nx", "line 2 of the proof is not 'index' and a whole number")]
    [InlineData("c2sp.org/tlog-proof@v1\nindex 0\nAAAA\n\nx", "'AAAA' is not the base64 of a 32-byte hash")]
    [InlineData("c2sp.org/tlog-proof@v1\nextra ?\nindex 0\n\nx", "the extra data of the proof is not base64")]
    public void A_proof_in_another_form_is_refused(string text, string message) =>
        Assert.Equal(message, Assert.Throws<RecordFormatException>(() => TlogProof.Parse(text)).Message);
}
