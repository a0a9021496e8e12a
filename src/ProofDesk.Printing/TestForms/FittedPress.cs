using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>One number of the press: what the trade says, what this press showed.</summary>
/// <param name="Name">Name of the setting.</param>
/// <param name="Words">What it is, for people.</param>
/// <param name="Usual">The number it replaces.</param>
/// <param name="Residual">How far the readings lie from it, one standard deviation, same unit; null for a single reading.</param>
/// <param name="From">What it was found from.</param>
public sealed record FittedNumber(
    string Name,
    string Words,
    double Usual,
    double Value,
    string Unit,
    DataClass DataClass,
    double? Residual,
    string From
);

/// <summary>The shop's own press, number by number, and what the form could not say.</summary>
/// <param name="CannotTell">Sentences.</param>
/// <param name="Findings">Readings that are odd, but not impossible.</param>
public sealed record FittedPress(
    PressSettings Press,
    ImmutableArray<FittedNumber> Numbers,
    ImmutableArray<string> CannotTell,
    ImmutableArray<Finding> Findings
);

/// <summary>Readings that cannot be so; every one of them is listed.</summary>
public sealed class ReadingsRefused(ImmutableArray<Finding> findings)
    : Exception(string.Join("; ", findings.Select(f => f.Message)))
{
    public ImmutableArray<Finding> Findings { get; } = findings;
}
