namespace ProofDesk.Adapters.Database;

/// <summary>What the client's form carried.</summary>
/// <param name="ManifestSha256">hex digest printed in the form: what was looked at</param>
/// <param name="Confirmed">every line of the list was ticked</param>
/// <param name="OpenedAt">when the form was made (from a signed field), for the time spent looking</param>
public sealed record DecisionRequest(
    Guid InvitationId,
    DecisionKind Kind,
    string ManifestSha256,
    string Nonce,
    string TypedName,
    bool Confirmed,
    string Message,
    string Locale,
    DateTimeOffset OpenedAt,
    string Agent,
    string Address
)
{
    /// <summary>What shall change, thing by thing; at least one goes with <see cref="DecisionKind.Changes"/>.</summary>
    public IReadOnlyList<ProofDesk.Approvals.Decisions.ChangeRequest> Changes { get; init; } = [];
}

/// <summary>One thing that is missing or wrong in the form.</summary>
public sealed record DecisionProblem(string Field, string Code, string Message);

public abstract record DecisionResult
{
    private DecisionResult() { }

    /// <summary>303 to the receipt. <paramref name="Repeated"/>: the same nonce came before, nothing was written.</summary>
    public sealed record Recorded(Guid DecisionId, bool Repeated) : DecisionResult;

    /// <summary>409, with who, what and when.</summary>
    public sealed record AlreadyDecided(Guid DecisionId, string Who, DecisionKind What, DateTimeOffset When)
        : DecisionResult;

    /// <summary>412: another version is out, or this one is not what the form showed.</summary>
    public sealed record Stale(int NewestNumber) : DecisionResult;

    /// <summary>410.</summary>
    public sealed record LinkGone(bool Revoked, DateTimeOffset Since) : DecisionResult;

    /// <summary>422, all problems at once.</summary>
    public sealed record Incomplete(IReadOnlyList<DecisionProblem> Problems) : DecisionResult;

    /// <summary>404.</summary>
    public sealed record Unknown : DecisionResult;
}
