using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Difficult;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>What is said about a separation of painted art.</summary>
internal static class TonalChecks
{
    /// <summary>Settings that this way of separating cannot meet.</summary>
    public static IEnumerable<Finding> Settings(PrintMethod method, SpotSettings settings)
    {
        if (settings.Base == BaseChoice.Discharge)
            yield return new(
                "base-not-of-this-method",
                FindingWeight.Refusal,
                $"a discharge base is not part of {method.Id}: discharge takes the cloth's own dye out and is a method of its own",
                "choose base white, auto or none"
            );
        foreach (var foreign in SeparationChecks.ForeignInks(method, settings))
            yield return foreign;
    }

    public static IEnumerable<Finding> Of(SeparationTable table, ImmutableArray<ToneShare> tones, SizedArt art)
    {
        for (var g = 0; g < table.Grounds.Length && !tones.IsEmpty; g++)
        {
            yield return Fit(TonalFit.Of(table, g, tones), table.Grounds[g].Ground);
            foreach (var colour in OutOfReach.Of(table, g, tones, art))
                yield return colour;
        }
    }

    private static Finding Fit(TonalFit fit, Ground ground)
    {
        var cloth = ground.Colour.Name.ToLowerInvariant();
        return new(
            "tonal-fit",
            FindingWeight.Note,
            Text(
                $"on {cloth} the plates come within {fit.MeanInGamut:0.0} dE00 of the art on average ({fit.NinetyFifthInGamut:0.0} for 95 % of it) as its lightness fits this print; {100 * fit.OutOfGamut:0} % of the art is more colourful than the inks and was brought in"
            ),
            fit.OutOfGamut > 0.1
                ? "show the client the proof and say so, or choose inks nearer to the art's colours"
                : "nothing",
            Math.Round(fit.MeanInGamut, 2),
            1.5,
            "dE00"
        );
    }
}
