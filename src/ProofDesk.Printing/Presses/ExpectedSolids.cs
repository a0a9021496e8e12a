using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>The colour a big solid of one screen is expected to measure on this ground, Lab D50, with its two ends.</summary>
/// <param name="Run">Index into the plan's runs.</param>
public sealed record ExpectedSolid(int Run, Lab Light, Lab Expected, Lab Heavy);

/// <summary>Expected solids of every running screen, for the ink list.</summary>
public static class ExpectedSolids
{
    /// <summary>One entry per running screen, in print order; a colour is taken on the base when one runs below it.</summary>
    public static ImmutableArray<ExpectedSolid> Of(Separation separation, GroundPlan plan, PressSettings press) =>
        throw new NotSupportedException("the press is being built");
}
