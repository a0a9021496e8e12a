using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Separations;

/// <summary>Spot art becomes plates: one set for a set of grounds.</summary>
public static class SpotSeparator
{
    /// <summary>
    /// Separates <paramref name="art"/> for <paramref name="method"/> on all <paramref name="grounds"/> with one set of plates.
    /// Art that needs no plate, or settings that cannot be met, come back as findings; a finding of weight
    /// <see cref="FindingWeight.Refusal"/> means the job cannot go on as set.
    /// </summary>
    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    ) => throw new NotSupportedException("arrives with the palette");
}
