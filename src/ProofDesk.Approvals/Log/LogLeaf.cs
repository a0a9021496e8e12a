using System.Text;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Log;

/// <summary>The four families of events that the log holds.</summary>
public enum LeafType
{
    /// <summary>A version was frozen: digest of its manifest.</summary>
    Freeze,

    /// <summary>A decision was made: digest of its statement.</summary>
    Decision,

    /// <summary>Something happened to an approved version: films exported, press check, substitution, count.</summary>
    Production,

    /// <summary>Keys, epochs, erasures.</summary>
    Admin,
}

/// <summary>Leaf data: "proofdesk-leaf/1", the type and the digest, a line each except that the last has no line end.</summary>
public static class LogLeaf
{
    public static byte[] Data(LeafType type, Sha256Digest digest) =>
        Encoding.ASCII.GetBytes($"proofdesk-leaf/1\n{Word(type)}\n{digest}");

    /// <summary>The hash stored in the log for this event.</summary>
    public static byte[] Hash(LeafType type, Sha256Digest digest) => MerkleTree.LeafHash(Data(type, digest));

    public static string Word(LeafType type) =>
        type switch
        {
            LeafType.Freeze => "freeze",
            LeafType.Decision => "decision",
            LeafType.Production => "production",
            LeafType.Admin => "admin",
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "unknown leaf type"),
        };
}
