using System.Collections.Immutable;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Decisions;

/// <summary>What a client says of one version: the words that are signed into the log.</summary>
/// <param name="Manifest">Digest of the manifest the client saw.</param>
/// <param name="StatementText">Digest of the sentences shown above the button.</param>
/// <param name="Locale">Language they were shown in, e.g. "en".</param>
/// <param name="Name">Name as typed.</param>
/// <param name="Invited">Address the link was mailed to.</param>
/// <param name="Changes">What shall change; only for <see cref="DecisionKind.Changes"/>.</param>
/// <param name="Withdraws">Digest of the statement taken back; only for <see cref="DecisionKind.Withdraw"/>.</param>
/// <param name="Comment">Free words beside the decision, or null.</param>
/// <param name="At">Server's time, to the millisecond.</param>
/// <param name="Nonce">Identifier of the form: the same form sent twice is one decision.</param>
/// <param name="Salt">32 random bytes: the leaf says nothing to anyone who lacks the packet.</param>
public sealed record DecisionStatement(
    DecisionKind Kind,
    Sha256Digest Manifest,
    Sha256Digest StatementText,
    string Locale,
    Confirmations Confirmed,
    string Name,
    string Invited,
    Evidence Evidence,
    ImmutableArray<ChangeRequest> Changes,
    Sha256Digest? Withdraws,
    string? Comment,
    DateTimeOffset At,
    string Nonce,
    ImmutableArray<byte> Salt
)
{
    public const string Profile = "proofdesk-decision/1";
}

public enum DecisionKind
{
    Approve,
    Changes,
    Withdraw,
}

/// <summary>The boxes a client ticks, in the client's own terms. All must be ticked to approve.</summary>
/// <param name="Words">Every word is spelled as it should be.</param>
/// <param name="SizeAndPlace">The size and the place of every print are right.</param>
/// <param name="GarmentsAndCounts">Garments, colours, sizes and numbers of pieces are right.</param>
/// <param name="ColoursWithinRange">The colours may fall anywhere in the range shown.</param>
public sealed record Confirmations(bool Words, bool SizeAndPlace, bool GarmentsAndCounts, bool ColoursWithinRange)
{
    public static Confirmations None { get; } = new(false, false, false, false);

    public static Confirmations All { get; } = new(true, true, true, true);

    public bool Complete => Words && SizeAndPlace && GarmentsAndCounts && ColoursWithinRange;
}

/// <summary>A wish: the thing it means (a print, ink, word, measure or line) and the client's words.</summary>
public sealed record ChangeRequest(string Thing, string Words);

/// <summary>How strongly a decision points at the invited person.</summary>
public enum EvidenceLevel
{
    /// <summary>S0: given elsewhere (telephone, mail reply, counter) and written down by staff.</summary>
    GivenElsewhere,

    /// <summary>E0: whoever held the mailed link.</summary>
    Link,

    /// <summary>E1: the link, and a code mailed to the invited address on demand.</summary>
    Code,
}

/// <param name="LinkId">Identifier of the invitation (never the token).</param>
/// <param name="CodeAt">When the mailed code was entered; only for <see cref="EvidenceLevel.Code"/>.</param>
/// <param name="Agent">What the browser calls itself, or null.</param>
/// <param name="Network">Network the request came from, shortened, or null.</param>
/// <param name="Elsewhere">Only for <see cref="EvidenceLevel.GivenElsewhere"/>.</param>
public sealed record Evidence(
    EvidenceLevel Level,
    string LinkId,
    DateTimeOffset? CodeAt = null,
    string? Agent = null,
    string? Network = null,
    GivenElsewhere? Elsewhere = null
);

/// <param name="Staff">Who wrote it down.</param>
/// <param name="How">Telephone, mail reply, at the counter...</param>
/// <param name="At">When it was given.</param>
/// <param name="File">Digest of the file that shows it, or null.</param>
public sealed record GivenElsewhere(string Staff, string How, DateTimeOffset At, Sha256Digest? File);
