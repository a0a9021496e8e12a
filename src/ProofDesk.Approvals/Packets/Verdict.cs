using System.Collections.Immutable;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>What is known from elsewhere when a packet is checked.</summary>
/// <param name="Keys">Keys the caller named: one of them must have signed, or the packet is not valid.</param>
/// <param name="Trusted">
/// Keys kept in a trust file: another key of the same name makes the packet not valid, and so does one that no longer counts for
/// a log of the packet's size.
/// </param>
/// <param name="Held">Text of a checkpoint or of a .tlog-proof kept from a receipt, or null.</param>
/// <param name="MaxBytes">Largest archive that is read.</param>
public sealed record VerifyOptions(
    ImmutableArray<VerifierKey> Keys,
    ImmutableArray<TrustedKey> Trusted,
    string? Held = null,
    long MaxBytes = uint.MaxValue
)
{
    /// <summary>Nothing is known from elsewhere.</summary>
    public static VerifyOptions Nothing { get; } = new([], []);
}

public enum VerdictKind
{
    /// <summary>The packet is whole, and something from outside it vouches for the log.</summary>
    Valid,

    /// <summary>Something in it does not fit.</summary>
    NotValid,

    /// <summary>The packet is whole in itself, but nothing from outside vouches for the log.</summary>
    ValidNotAnchored,

    /// <summary>This is not a packet, or it cannot be read.</summary>
    Unreadable,
}

public enum StepOutcome
{
    Passed,
    Failed,

    /// <summary>Said for completeness: something that was not, or cannot be, proven.</summary>
    NotProven,
}

/// <param name="Code">Stable name of the step.</param>
public sealed record VerifyStep(string Code, StepOutcome Outcome, string Text);

/// <param name="Manifest">What was decided on, if it could be read.</param>
/// <param name="Statement">What was said, if it could be read.</param>
/// <param name="Summary">The last line, in plain words.</param>
public sealed record Verdict(
    VerdictKind Kind,
    ImmutableArray<VerifyStep> Steps,
    string Summary,
    Manifest? Manifest,
    DecisionStatement? Statement
)
{
    /// <summary>0 valid, 1 not valid, 2 valid but not anchored outside, 3 unreadable.</summary>
    public int ExitCode =>
        Kind switch
        {
            VerdictKind.Valid => 0,
            VerdictKind.NotValid => 1,
            VerdictKind.ValidNotAnchored => 2,
            _ => 3,
        };
}
