using System.Collections.Immutable;
using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>The sealed record of one decision, without the contents of the bound files.</summary>
/// <param name="Manifest">Bytes of the manifest, as logged.</param>
/// <param name="Statement">Bytes of the statement, as logged.</param>
/// <param name="StatementText">Sentences shown to the client.</param>
/// <param name="Keys">Keys that signed the checkpoint.</param>
/// <param name="FreezeProof">Proof that the manifest is in the log; the same checkpoint as the decision's.</param>
/// <param name="DecisionProof">Proof that the statement is in the log.</param>
public sealed record Packet(
    ImmutableArray<byte> Manifest,
    ImmutableArray<byte> Statement,
    string StatementText,
    ImmutableArray<VerifierKey> Keys,
    string FreezeProof,
    string DecisionProof
)
{
    /// <summary>Layout of the archive and words of its human copies. Other words are another layout: packets must verify for ever.</summary>
    public const string Layout = "proofdesk-packet/1";

    /// <summary>
    /// Seals a decision: both proofs lead to the one checkpoint given. Take the checkpoint that first covered the decision,
    /// the one in the receipt, and the packet is the same whenever it is downloaded.
    /// </summary>
    /// <param name="tree">The log, at least as large as the checkpoint says.</param>
    /// <param name="freezeIndex">Entry of the manifest.</param>
    /// <param name="decisionIndex">Entry of the statement.</param>
    public static Packet Seal(
        ReadOnlySpan<byte> manifest,
        ReadOnlySpan<byte> statement,
        string statementText,
        IEnumerable<VerifierKey> keys,
        MerkleTree tree,
        int freezeIndex,
        int decisionIndex,
        string checkpointNote
    ) =>
        new(
            [.. manifest],
            [.. statement],
            statementText,
            [.. keys],
            TlogProof.Of(tree, freezeIndex, checkpointNote).Write(),
            TlogProof.Of(tree, decisionIndex, checkpointNote).Write()
        );
}

/// <summary>Names in the archive, in their order; the bound files follow in the order of their paths.</summary>
internal static class PacketNames
{
    public const string ReadMe = "README.txt";
    public const string Manifest = "data/manifest.json";
    public const string Statement = "data/statement.json";
    public const string Keys = "proofs/keys.txt";
    public const string FreezeProof = "proofs/freeze.tlog-proof";
    public const string DecisionProof = "proofs/decision.tlog-proof";
    public const string Record = "record.html";

    public static string StatementText(string locale) => $"data/statement-text.{locale}.txt";

    public static string File(ManifestFile file) => $"data/files/{file.Path}";
}

/// <summary>A packet's small files as bytes, and what they say.</summary>
internal sealed record OpenedPacket(Packet Packet, Manifest Manifest, DecisionStatement Statement)
{
    public static OpenedPacket Of(Packet packet) =>
        new(packet, ManifestJson.Parse(packet.Manifest.AsSpan()), StatementJson.Parse(packet.Statement.AsSpan()));

    public Sha256Digest ManifestDigest => Sha256Digest.Of(Packet.Manifest.AsSpan());

    public Sha256Digest StatementDigest => Sha256Digest.Of(Packet.Statement.AsSpan());

    /// <summary>Every file before the bound ones, in order.</summary>
    public IReadOnlyList<(string Name, byte[] Bytes)> SmallFiles() =>
        [
            (PacketNames.ReadMe, Utf8(PacketReadMe.Write(this))),
            (PacketNames.Manifest, [.. Packet.Manifest]),
            (PacketNames.Statement, [.. Packet.Statement]),
            (PacketNames.StatementText(Statement.Locale), Utf8(Packet.StatementText)),
            (PacketNames.Keys, Utf8(KeysText(Packet.Keys))),
            (PacketNames.FreezeProof, Utf8(Packet.FreezeProof)),
            (PacketNames.DecisionProof, Utf8(Packet.DecisionProof)),
            (PacketNames.Record, Utf8(RecordPage.Write(this))),
        ];

    public static string KeysText(IEnumerable<VerifierKey> keys) => string.Concat(keys.Select(k => $"{k}\n"));

    private static byte[] Utf8(string text) => Encoding.UTF8.GetBytes(text);
}
