using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// The best two groups of an order's grounds: they are ordered from dark to pale and cut at each place in turn, and each group is solved by
/// itself with the same inks.
/// </summary>
internal static class SecondSets
{
    /// <summary>Null for one ground.</summary>
    public static SecondSet? Of(TonalJob job, ImmutableArray<TonalGround> grounds, ImmutableArray<ToneShare> art)
    {
        if (grounds.Length < 2)
            return null;
        var tones = DirectFit.Look(art);
        var order = TonalSeparator.DarkToPale(grounds);
        var one = Means(job, order, tones);
        SecondSet? best = null;
        for (var cut = 1; cut < order.Length; cut++)
        {
            ImmutableArray<TonalGround> dark = [.. order.Take(cut)];
            ImmutableArray<TonalGround> pale = [.. order.Skip(cut)];
            double[] two = [.. Means(job, dark, tones), .. Means(job, pale, tones)];
            var second = new SecondSet(
                [.. grounds.Where(pale.Contains).Select(g => g.Ground)],
                [
                    .. grounds.Select(g =>
                    {
                        var at = order.IndexOf(g);
                        return new SetGain(g.Ground, one[at], two[at]);
                    }),
                ],
                ScreensFor(job, pale),
                job.Plates.All(p => p.Mesh.IsNone)
            );
            if (best is null || second.Gains.Sum(g => g.Gain) > best.Gains.Sum(g => g.Gain))
                best = second;
        }
        return best;
    }

    /// <summary>White that runs on none of the grounds needs no screen in their set.</summary>
    private static int ScreensFor(TonalJob job, ImmutableArray<TonalGround> grounds)
    {
        var white = Enumerable
            .Range(0, job.Grounds.Length)
            .Any(i => job.WhiteRuns[i] && grounds.Any(g => g.Ground == job.Grounds[i]));
        return job.Plates.Count(p => white || !p.IsWhite);
    }

    private static double[] Means(TonalJob job, ImmutableArray<TonalGround> grounds, ImmutableArray<ToneShare> tones)
    {
        var coverages = DirectFit.Coverages(job, grounds, tones);
        return [.. grounds.Select(g => TonalFit.Of(g, tones, i => coverages[i]).MeanOverall)];
    }
}
