using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Log;

public sealed class CheckpointTests
{
    // c2sp.org/tlog-checkpoint, the example at its top (its key is not published, so the head is read unverified).
    private const string Published =
        "example.com/behind-the-sofa\n20852163\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n\n"
        + "\u2014 example.com/behind-the-sofa Az3grlgtzPICa5OS8npVmf1Myq/5IZniMp+ZJurmRDeOoRDe4URYN7u5/Zhcyv2q1gGzGku9nTo+zyWE+xeMcTOAYQ8=\n";

    [Fact]
    public void The_published_checkpoint_is_read_and_written_back()
    {
        var head = Checkpoint.ReadUnverified(Published);

        Assert.Equal(
            new Checkpoint("example.com/behind-the-sofa", 20852163, "CsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I="),
            head
        );
        Assert.StartsWith(head.Text + "\n", Published, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("log\n01\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n", "'01' is not the size of a log")]
    [InlineData("log\n-1\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n", "'-1' is not the size of a log")]
    [InlineData("log\n1\nCsUYapGGPo4=\n", "'CsUYapGGPo4=' is not the base64 of a 32-byte root")]
    [InlineData("log\n1\n", "a checkpoint has three lines (origin, size, root), got 2")]
    [InlineData(
        "log\n1\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\nmore\n",
        "a checkpoint has three lines (origin, size, root), got 4"
    )]
    public void A_head_that_is_not_three_lines_is_refused(string text, string message) =>
        Assert.Equal(message, Assert.Throws<RecordFormatException>(() => Checkpoint.Parse(text)).Message);

    [Fact]
    public void A_log_that_only_grew_is_signed()
    {
        var highest = Checkpoint.Of(Samples.Origin, Tree(5));

        var signed = CheckpointSigner.Sign(Tree(9), Samples.Origin, highest, Samples.Key);

        Assert.Null(signed.Refusal);
        Assert.Equal(signed.Head, Checkpoint.Open(signed.Note!, [Samples.Key.Verifier]));
    }

    [Fact]
    public void A_log_that_lost_leaves_is_not_signed() =>
        Refused(
            "the log has 4 leaves, a checkpoint of 5 was signed before: leaves are lost, restore them",
            CheckpointSigner.Sign(Tree(4), Samples.Origin, Checkpoint.Of(Samples.Origin, Tree(5)), Samples.Key)
        );

    [Fact]
    public void A_fork_is_not_signed()
    {
        var fork = MerkleTree.Of(
            MerkleTreeTests.LeafHashes(9).Select((h, i) => i == 2 ? MerkleTree.LeafHash("x"u8) : h)
        );

        Refused(
            "the first 5 leaves are not those signed before: the log was rewritten, restore it",
            CheckpointSigner.Sign(fork, Samples.Origin, Checkpoint.Of(Samples.Origin, Tree(5)), Samples.Key)
        );
    }

    [Fact]
    public void A_log_under_another_name_is_not_signed() =>
        Refused(
            "the log is called other.example, the last checkpoint signed is of lindhag.example/proofs/1: start a new log for a new name",
            CheckpointSigner.Sign(Tree(9), "other.example", Checkpoint.Of(Samples.Origin, Tree(5)), Samples.Key)
        );

    [Fact]
    public void The_same_head_gives_the_same_note() =>
        Assert.Equal(
            CheckpointSigner.Sign(Tree(9), Samples.Origin, null, Samples.Key).Note,
            CheckpointSigner.Sign(Tree(9), Samples.Origin, Checkpoint.Of(Samples.Origin, Tree(9)), Samples.Key).Note
        );

    private static void Refused(string why, SignedHead signed)
    {
        Assert.Equal(why, signed.Refusal);
        Assert.Null(signed.Note);
    }

    private static MerkleTree Tree(int size) => MerkleTree.Of(MerkleTreeTests.LeafHashes(size));
}
