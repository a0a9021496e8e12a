using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>Sentences about a statement. <see cref="RecordPage"/> uses them, so they are frozen with the layout.</summary>
internal static class PacketWords
{
    public static string Did(DecisionKind kind) =>
        kind switch
        {
            DecisionKind.Approve => "approved this version for production",
            DecisionKind.Changes => "asked for changes",
            DecisionKind.Withdraw => "took the earlier decision back",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "unknown decision"),
        };

    public static string Evidence(DecisionStatement s) =>
        s.Evidence switch
        {
            { Level: EvidenceLevel.Link } => $"Evidence E0: the link mailed to {s.Invited} was used.",
            { Level: EvidenceLevel.Code, CodeAt: { } at } =>
                $"Evidence E1: the link mailed to {s.Invited} was used, and a code mailed there was entered at {UtcText.Write(at)}.",
            { Elsewhere: { } elsewhere } =>
                $"Evidence S0: given elsewhere ({elsewhere.How}) at {UtcText.Write(elsewhere.At)} and written down by {elsewhere.Staff} of the shop. This is the shop's word, not the client's.",
            _ => "Evidence: incomplete.",
        };
}
