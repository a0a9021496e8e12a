using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Which inks a picture needs: one after the other, each time the one whose plates come nearest to the picture's colours by the
/// forward model, then once more round to see whether another would now do better in a place already taken.
/// </summary>
internal static class InkSelection
{
    private const int Tones = 90;
    private const int Rounds = 14;

    /// <summary>A tone missed by more than this counts no further: it is out of reach and would pull everything.</summary>
    private const double FarOff = 25;

    public static ImmutableArray<Ink> Choose(
        ImmutableArray<ToneShare> tones,
        Func<ImmutableArray<Ink>, TonalJob> job,
        ImmutableArray<Ink> shelf,
        int count
    )
    {
        var looked = Families(tones);
        var chosen = new List<Ink>();
        // Black carries the drawing and stays wherever the cloth is not black itself (common practice).
        if (count > 2 && shelf.FirstOrDefault(i => i.Role == InkRole.Black) is { } black)
            chosen.Add(black);
        while (chosen.Count < Math.Min(count, shelf.Length))
            chosen.Add(Best(looked, job, shelf, chosen));
        for (var i = 0; i < chosen.Count && chosen.Count > 1; i++)
        {
            if (chosen[i].Role == InkRole.Black && count > 2)
                continue;
            var others = chosen.Where((_, k) => k != i).ToList();
            chosen[i] = Best(looked, job, shelf, others);
        }
        return [.. chosen];
    }

    /// <summary>
    /// Tones gathered in cells of 32 codes a side, so that many shades of one colour do not crowd out a small area of another.
    /// </summary>
    private static ImmutableArray<ToneShare> Families(ImmutableArray<ToneShare> tones) =>
        [
            .. tones
                .GroupBy(t => (Cell(t.Colour.R), Cell(t.Colour.G), Cell(t.Colour.B)))
                .Select(family =>
                {
                    var share = family.Sum(t => t.Share);
                    return new ToneShare(
                        new(
                            family.Sum(t => t.Share * t.Colour.R) / share,
                            family.Sum(t => t.Share * t.Colour.G) / share,
                            family.Sum(t => t.Share * t.Colour.B) / share
                        ),
                        share
                    );
                })
                .OrderByDescending(t => t.Share)
                .Take(Tones),
        ];

    private static int Cell(double linear) => (int)(255.999 * Srgb.Encode(Math.Clamp(linear, 0, 1))) >> 5;

    private static Ink Best(
        ImmutableArray<ToneShare> tones,
        Func<ImmutableArray<Ink>, TonalJob> job,
        ImmutableArray<Ink> shelf,
        List<Ink> with
    )
    {
        var candidates = shelf.Where(ink => !with.Contains(ink)).ToArray();
        var misses = new double[candidates.Length];
        Parallel.For(0, candidates.Length, i => misses[i] = Miss(tones, job([.. with, candidates[i]])));
        return candidates[Array.IndexOf(misses, misses.Min())];
    }

    private static double Miss(ImmutableArray<ToneShare> tones, TonalJob job)
    {
        var costs = new InkCosts([.. job.Plates.Select(p => p.Cost)], job.TotalInk);
        var miss = 0.0;
        // A shelf is chosen for the ground that asks most and for the one that asks least.
        var grounds = Enumerable.Range(0, job.Grounds.Length).OrderBy(g => TonalJobs.Cloth(job.Grounds[g]).L).ToArray();
        foreach (var ground in grounds.Length > 1 ? new[] { grounds[0], grounds[^1] } : grounds)
        {
            var cloth = TonalJobs.Cloth(job.Grounds[ground]);
            var solver = new CoverageSolver([TonalGround.ModelOf(job, ground, quick: true)], [1], costs);
            var gamut = PrintGamut.Ends(
                solver,
                job.Plates.Length,
                job.FullWhites(ground),
                ClothShows.ByDefault(new(0, 0, 0), cloth),
                ClothShows.IsPale(cloth)
            );
            var at = new float[job.Plates.Length];
            foreach (var tone in tones)
            {
                var ideal = gamut.Ideal(tone.Colour);
                double[] wanted = [PlateModel.Scale * ideal.L, PlateModel.Scale * ideal.A, PlateModel.Scale * ideal.B];
                at.AsSpan().Fill(0.35f);
                solver.Solve(at, wanted, [], 0, Rounds);
                var off = Math.Min(FarOff, solver.Distance(at, wanted, 0));
                // Small areas catch the eye as well: shares count by their root.
                miss += Math.Sqrt(tone.Share) * off * off;
            }
        }
        return miss;
    }
}
