using System.Net;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>What the client's form carried.</summary>
/// <param name="ManifestSha256">hex digest printed in the form: what was looked at</param>
/// <param name="Nonce">made with the form, so that sending it twice is one decision</param>
/// <param name="Withdraws">the decision taken back; only for a withdrawal</param>
/// <param name="Code">the mailed code as it was typed, or null</param>
/// <param name="Signs">what makes it look like a machine's answer (<see cref="RobotSigns"/>)</param>
/// <param name="ForSample">it is about the printed sample, not about the proof</param>
public sealed record DecisionRequest(
    Guid InvitationId,
    DecisionKind Kind,
    string ManifestSha256,
    string Nonce,
    string TypedName,
    string Locale,
    Confirmations Confirmed,
    IReadOnlyList<ChangeRequest> Changes,
    string? Comment = null,
    string? Agent = null,
    IPAddress? Address = null,
    Guid? Withdraws = null,
    string? Code = null,
    IReadOnlyList<string>? Signs = null,
    bool ForSample = false
);

/// <summary>A decision given by telephone, mail reply or at the counter, written down by staff. Never shown as the client's own.</summary>
/// <param name="FileSha256">a stored file that shows it, or null</param>
public sealed record ElsewhereRequest(
    Guid VersionId,
    DecisionKind Kind,
    string Nonce,
    string ClientName,
    string Staff,
    string How,
    DateTimeOffset GivenAt,
    IReadOnlyList<ChangeRequest> Changes,
    string? Comment = null,
    string? FileSha256 = null
);

public abstract record DecisionResult
{
    private DecisionResult() { }

    /// <summary>303 to the receipt. <paramref name="Repeated"/>: the same nonce came before, nothing was written.</summary>
    public sealed record Recorded(Guid DecisionId, bool Repeated) : DecisionResult;

    /// <summary>409, with who, what and when.</summary>
    public sealed record AlreadyDecided(
        Guid DecisionId,
        string Who,
        DecisionKind What,
        DateTimeOffset When,
        string Text
    ) : DecisionResult;

    /// <summary>412: another version is out, or this one is not what the form showed.</summary>
    public sealed record Stale(int NewestNumber, string Text) : DecisionResult;

    /// <summary>410.</summary>
    public sealed record LinkGone(bool Revoked, DateTimeOffset Since) : DecisionResult;

    /// <summary>422, everything that is missing at once.</summary>
    public sealed record Incomplete(IReadOnlyList<Refusal> Refusals) : DecisionResult;

    /// <summary>404.</summary>
    public sealed record Unknown : DecisionResult;
}
