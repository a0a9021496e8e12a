using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>Sentences about a statement. <see cref="RecordPage"/> uses them, so they are frozen with the layout.</summary>
internal static class PacketWords
{
    private static string Did(DecisionKind kind) =>
        kind switch
        {
            DecisionKind.Approve => "approved this version for production",
            DecisionKind.Changes => "asked for changes",
            DecisionKind.Withdraw => "took the earlier decision back",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "unknown decision"),
        };

    /// <summary>Who said what. What staff wrote down is never told as the client's own decision.</summary>
    public static string Said(DecisionStatement s) =>
        s.Evidence.Elsewhere is { } elsewhere
            ? $"{elsewhere.Staff} of the shop wrote down that {s.Name} {Did(s.Kind)}"
            : $"{s.Name} {Did(s.Kind)}";

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
