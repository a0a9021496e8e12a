using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Records;

/// <summary>One decision with what was shown, what was said and where it stands in the log.</summary>
public sealed record RecordPage(DecisionRecord Record, ReadVersion Read, string VerifierKey)
{
    public Decision Decision => Record.Decision;
    public DecisionStatement Statement => Record.Statement;
    public SealedLeaf Proof => Record.Leaf;
    public bool IsEffective => Record.Stands;

    /// <summary>A packet carries the films, so only an approval has one.</summary>
    public bool HasPacket => Decision.Kind == DecisionKind.Approve && !Decision.IsErased;

    /// <summary>What happened to the version besides answers, oldest first.</summary>
    public IReadOnlyList<Happened> Events { get; init; } = [];

    /// <summary>When the page is shown; set where taking back is offered.</summary>
    public DateTimeOffset? Now { get; init; }

    /// <summary>Approved and within the hold: films have not left, so the client may take the answer back until then.</summary>
    public DateTimeOffset? TakeBackUntil => Now < Record.ReleasedAt ? Record.ReleasedAt : null;

    /// <summary>"Kim Reed approved", or who wrote it down when it was given elsewhere.</summary>
    public static string Who(Decision decision) =>
        KeptStatement.Of(decision).Evidence.Elsewhere is { } elsewhere
            ? $"{KeptStatement.NameOf(decision)} {Word(decision.Kind)} elsewhere, written down by {elsewhere.Staff}"
            : $"{KeptStatement.NameOf(decision)} {Word(decision.Kind)}";

    public static string Word(DecisionKind kind) =>
        kind switch
        {
            DecisionKind.Approve => "approved",
            DecisionKind.Changes => "asked for changes",
            DecisionKind.Withdraw => "withdrew the decision",
            _ => kind.ToString(),
        };

    public static string Word(EvidenceLevel level) =>
        level switch
        {
            EvidenceLevel.Link => "E0: whoever held the mailed link",
            EvidenceLevel.Code => "E1: the mailed link and a code mailed on demand",
            _ => "S0: given elsewhere and written down by staff",
        };

    /// <summary>The changes asked for, one line each.</summary>
    public static string Said(Decision decision)
    {
        var statement = KeptStatement.Of(decision);
        var lines = statement.Changes.Select(c => $"{c.Thing}: {c.Words}");
        return string.Join('\n', statement.Comment is { } comment ? lines.Append(comment) : lines);
    }
}
