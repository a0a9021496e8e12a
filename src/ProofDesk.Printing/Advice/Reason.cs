using System.Collections.Immutable;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Advice;

/// <summary>In the order they are listed.</summary>
public enum Standing
{
    Can,
    CanWithCaution,
    Cannot,
}

/// <summary>One thing that speaks for or against a method, with its numbers.</summary>
/// <param name="Standing">What it alone would make of the method.</param>
/// <param name="Sentence">Whole sentences.</param>
/// <param name="Source">Where its numbers come from: "common practice", "measured in the art", "physics 1.9".</param>
public sealed record Reason(Standing Standing, string Sentence, string Source);

/// <summary>Whether a method can print this art on this cloth in this quantity, and why.</summary>
/// <param name="Reasons">What stops it first, then cautions, then what speaks for it.</param>
/// <param name="Cost">Null where it cannot be counted.</param>
public sealed record MethodAdvice(PrintMethod Method, Standing Standing, ImmutableArray<Reason> Reasons, RunCost? Cost);
