using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Choices;
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
        foreach (var unmet in InkRuleChecks.Of(method, settings))
            yield return unmet;
    }

    public static IEnumerable<Finding> Of(
        SeparationTable table,
        TonalJob job,
        ImmutableArray<ToneShare> tones,
        SizedArt art
    )
    {
        foreach (var ground in tones.IsEmpty ? [] : table.AllGrounds)
        {
            yield return Fit(TonalFit.Of(table, ground, tones), ground.Ground);
            if (Array.IndexOf(table.Grounds, ground) is >= 0 and var solved)
                foreach (var colour in OutOfReach.Of(table, solved, tones, art))
                    yield return colour;
        }
        for (var g = 0; g < job.Grounds.Length && job.Grounds.Length > 1; g++)
            yield return Plan(table, job, g);
    }

    /// <summary>One set of plates on several grounds: what runs where, and whom it was made for.</summary>
    private static Finding Plan(SeparationTable table, TonalJob job, int g)
    {
        var ground = job.Grounds[g];
        var running = job.RunsOn(g).Select(r => r.Plate).Distinct().ToArray();
        var resting = Enumerable
            .Range(0, job.Plates.Length)
            .Where(i => !running.Contains(i))
            .Select(i => job.Plates[i].Name.ToLowerInvariant())
            .ToArray();
        var solved = Array.FindIndex(table.Grounds, t => t.Ground == ground) switch
        {
            0 => "the set was solved for it",
            1 => "the set was solved for it with half the weight",
            _ => "the set was solved for other grounds",
        };
        var rest =
            resting.Length == 0 ? "" : $", {string.Join(" and ", resting)} rest{(resting.Length == 1 ? "s" : "")}";
        return new(
            "tonal-plan",
            FindingWeight.Note,
            $"on {ground.Colour.Name.ToLowerInvariant()} {running.Length} of {job.Plates.Length} screens run{rest}; {solved}",
            "nothing"
        );
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
