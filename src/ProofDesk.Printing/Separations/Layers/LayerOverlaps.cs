using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>
/// Layers that lie on each other print on each other: that is what the designer drew. Where it is more than a trap the
/// finding says how much, and what the press will show there.
/// </summary>
internal static class LayerOverlaps
{
    /// <summary>A trap is a few per cent of a layer; more is an overprint.</summary>
    private const double MoreThanTrap = 0.05;

    private const double LeastMm2 = 25;

    /// <summary>On another ink the upper one looks the same to this (CIEDE2000): it hides it.</summary>
    private const double Hides = 3;

    public static IEnumerable<Finding> Of(LayerJob job, LayerPlan plan)
    {
        var layers = plan.Colours;
        var areas = layers.Select(l => LayerJob.Area(l.Match.Coverage)).ToArray();
        for (var upper = 1; upper < layers.Length; upper++)
        for (var lower = 0; lower < upper; lower++)
        {
            var shared = LayerJob.Shared(layers[lower].Match.Coverage, layers[upper].Match.Coverage);
            if (
                shared / job.PerMm2 < LeastMm2
                || shared < MoreThanTrap * Math.Min(areas[lower], areas[upper])
                || Ground(job, layers[lower], layers[upper]) is not { } ground
            )
                continue;
            yield return Finding(job, plan, layers[lower], layers[upper], ground, shared / job.PerMm2 / 100);
        }
    }

    /// <summary>The first ground on which both print.</summary>
    private static int? Ground(LayerJob job, ColourLayer lower, ColourLayer upper) =>
        Enumerable
            .Range(0, job.Grounds.Length)
            .Where(g => lower.Ink.Prints[g] && upper.Ink.Prints[g])
            .Select(g => (int?)g)
            .FirstOrDefault();

    private static Finding Finding(
        LayerJob job,
        LayerPlan plan,
        ColourLayer lower,
        ColourLayer upper,
        int g,
        double cm2
    )
    {
        var ground = job.Grounds[g];
        var onBase = lower.Ink.OnBase && plan.Decision.Runs[g];
        var together = job.Appearance.Over(ground, [lower.Ink.Ink, upper.Ink.Ink], job.Mesh, onBase);
        var alone = job.Appearance.Over(ground, [upper.Ink.Ink], job.Mesh, onBase);
        var under = job.Appearance.Over(ground, [lower.Ink.Ink], job.Mesh, onBase);
        var (off, gone) = (Ciede2000.Difference(together, alone), Ciede2000.Difference(together, under));
        var seen = LayerJob.Colour("", together).Hex;
        var what =
            off < Hides ? $"it hides it: {seen}, {Text($"{off:0.0}")} dE00 from {upper.Match.Name} alone"
            : gone < Hides ? $"it hardly shows: {seen}, {Text($"{gone:0.0}")} dE00 from {lower.Match.Name} alone"
            : $"they give {seen} together, {Text($"{off:0.0}")} dE00 from {upper.Match.Name} alone";
        return new(
            "layers-overprint",
            FindingWeight.Note,
            Text(
                $"{upper.Match.Name} prints over {lower.Match.Name} on {cm2:0.0} cm2, as the layers are drawn; on {ground.Colour.Name.ToLowerInvariant()} "
            ) + what,
            "nothing, or cut the lower layer out where the upper one lies if it is not meant",
            Math.Round(cm2, 1),
            null,
            "cm2"
        );
    }
}
