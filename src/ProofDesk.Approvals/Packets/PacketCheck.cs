using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>Checks on the small files of a packet: do manifest, statement, sentences, proofs and keys fit each other?</summary>
internal static class PacketCheck
{
    public static IEnumerable<VerifyStep> Record(OpenedPacket opened) =>
        [Bound(opened), Shown(opened), Said(opened), .. Logged(opened)];

    private static VerifyStep Bound(OpenedPacket opened) =>
        opened.Statement.Manifest == opened.ManifestDigest
            ? Ok("bound", $"the statement names this manifest ({opened.ManifestDigest.ShortCode})")
            : Fail(
                "bound",
                $"the statement names manifest {opened.Statement.Manifest.ShortCode}, this one is {opened.ManifestDigest.ShortCode}"
            );

    private static VerifyStep Shown(OpenedPacket opened)
    {
        var s = opened.Statement;
        var digest = StatementTexts.Digest(opened.Packet.StatementText);
        if (digest != s.StatementText)
        {
            return Fail(
                "text",
                $"the sentences in the packet ({digest.ShortCode}) are not those of the statement ({s.StatementText.ShortCode})"
            );
        }

        return opened.Manifest.StatementTexts.TryGetValue(s.Locale, out var bound) && bound == digest
            ? Ok("text", $"the sentences shown, in language '{s.Locale}', are those bound by manifest and statement")
            : Fail("text", $"the manifest binds no such sentences in language '{s.Locale}'");
    }

    private static VerifyStep Said(OpenedPacket opened)
    {
        var refusals = DecisionRules.OfTheStatement(opened.Statement).Select(r => r.Code).ToList();
        if (refusals.Count > 0)
        {
            return Fail("said", $"the statement is not a complete decision: {string.Join(", ", refusals)}");
        }

        return opened.Statement.Kind switch
        {
            DecisionKind.Approve => Ok(
                "said",
                "words, size and place, garments and counts, colours in their range: each was confirmed"
            ),
            DecisionKind.Changes => Ok(
                "said",
                $"{opened.Statement.Changes.Length} changes were asked for, each in words"
            ),
            _ => Ok("said", "an earlier decision was taken back"),
        };
    }

    private static IEnumerable<VerifyStep> Logged(OpenedPacket opened)
    {
        var packet = opened.Packet;
        TlogProof freeze;
        TlogProof decision;
        Checkpoint head;
        try
        {
            freeze = TlogProof.Parse(packet.FreezeProof);
            decision = TlogProof.Parse(packet.DecisionProof);
            head = Checkpoint.Open(decision.CheckpointNote, packet.Keys);
        }
        catch (RecordFormatException e)
        {
            return [Fail("signed", $"the proofs do not hold: {e.Message}")];
        }

        if (WrongForm(packet, freeze, decision, head) is { } wrong)
        {
            return [Fail("signed", wrong)];
        }

        return
        [
            Ok(
                "signed",
                $"the checkpoint of {head.Origin} with {head.Size} entries is signed by {string.Join(" and ", packet.Keys.Select(k => k.ToString()))}"
            ),
            Included("frozen", "the manifest", freeze, LogLeaf.Hash(LeafType.Freeze, opened.ManifestDigest), head),
            Included(
                "decided",
                "the statement",
                decision,
                LogLeaf.Hash(LeafType.Decision, opened.StatementDigest),
                head
            ),
        ];
    }

    private static string? WrongForm(Packet packet, TlogProof freeze, TlogProof decision, Checkpoint head)
    {
        if (freeze.Extra is not null || decision.Extra is not null)
        {
            return "a proof carries extra data, which nothing vouches for";
        }

        if (!string.Equals(freeze.CheckpointNote, decision.CheckpointNote, StringComparison.Ordinal))
        {
            return "the two proofs end in different checkpoints";
        }

        if (freeze.Index >= decision.Index)
        {
            return $"the manifest is entry {freeze.Index} of the log and the statement entry {decision.Index}: it was decided before it was frozen";
        }

        var signers = SignedNote.Open(decision.CheckpointNote, packet.Keys).Signers;
        if (packet.Keys.FirstOrDefault(k => !signers.Contains(k)) is { } idle)
        {
            return $"the key {idle} stands in {PacketNames.Keys} but signed nothing";
        }

        return signers.Any(k => string.Equals(k.Name, head.Origin, StringComparison.Ordinal))
            ? null
            : $"none of the keys is called {head.Origin}, as the log is";
    }

    private static VerifyStep Included(string code, string what, TlogProof proof, byte[] leaf, Checkpoint head) =>
        MerkleProof.Includes(head.Root, head.Size, leaf, proof.Index, proof.Path)
            ? Ok(code, $"{what} is entry {proof.Index} of that log")
            : Fail(code, $"the path of entry {proof.Index} does not lead from {what} to the root of the log");

    public static VerifyStep Ok(string code, string text) => new(code, StepOutcome.Passed, text);

    public static VerifyStep Fail(string code, string text) => new(code, StepOutcome.Failed, text);
}
