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

    /// <summary>Nearer than this a solution is not looked for anew.</summary>
    private const double Missed = 2;

    /// <summary>Places to begin from: a shelf is judged by many tones, of which each may be a little off.</summary>
    private const int Places = 3;

    /// <param name="held">Inks that are in the set whatever the picture says.</param>
    public static ImmutableArray<Ink> Choose(
        ImmutableArray<ToneShare> tones,
        Func<ImmutableArray<Ink>, TonalJob> job,
        ImmutableArray<Ink> shelf,
        int count,
        IReadOnlyCollection<Ink> held
    )
    {
        var looked = Families(tones);
        var chosen = held.Take(count).ToList();
        // Black carries the drawing and stays wherever the cloth is not black itself (common practice).
        if (count > Math.Max(2, chosen.Count) && shelf.FirstOrDefault(i => i.Role == InkRole.Black) is { } black)
            chosen.Add(black);
        Trial? with = null;
        while (chosen.Count < count && shelf.Any(ink => !chosen.Contains(ink)))
        {
            with = Best(looked, job, shelf, chosen, with);
            chosen.Add(with.Added);
        }
        for (var i = 0; i < chosen.Count && chosen.Count > 1; i++)
        {
            if (chosen[i].Role == InkRole.Black && count > 2 || held.Contains(chosen[i]))
                continue;
            var others = chosen.Where((_, k) => k != i).ToList();
            with = Best(looked, job, shelf, others, with);
            chosen[i] = with.Added;
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

    /// <summary>A set of inks tried: how far it misses the tones, and the coverages found for each tone on each ground.</summary>
    private sealed record Trial(Ink Added, double Miss, ImmutableArray<string> Plates, List<float[]> Found);

    private static Trial Best(
        ImmutableArray<ToneShare> tones,
        Func<ImmutableArray<Ink>, TonalJob> job,
        ImmutableArray<Ink> shelf,
        List<Ink> with,
        Trial? last
    )
    {
        var candidates = shelf.Where(ink => !with.Contains(ink)).ToArray();
        var trials = new Trial[candidates.Length];
        Parallel.For(
            0,
            candidates.Length,
            i => trials[i] = Try(tones, job([.. with, candidates[i]]), candidates[i], last)
        );
        return trials.MinBy(t => t.Miss)!;
    }

    private static Trial Try(ImmutableArray<ToneShare> tones, TonalJob job, Ink added, Trial? last)
    {
        var costs = InkCosts.Of(job);
        ImmutableArray<string> plates = [.. job.Plates.Select(p => p.Name)];
        var before = plates.Select(name => last?.Plates.IndexOf(name) ?? -1).ToArray();
        var found = new List<float[]>();
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
            foreach (var tone in tones)
            {
                var ideal = gamut.Ideal(tone.Colour);
                double[] wanted = [PlateModel.Scale * ideal.L, PlateModel.Scale * ideal.A, PlateModel.Scale * ideal.B];
                var at = new float[plates.Length];
                // From what served without the new ink, as most tones hardly change; anew where that misses.
                var enough = double.MaxValue;
                if (last is not null)
                {
                    for (var i = 0; i < at.Length; i++)
                        at[i] = before[i] < 0 ? 0.25f : last.Found[found.Count][before[i]];
                    enough = solver.Solve(at, wanted, [], 0, Rounds);
                }
                if (solver.Distance(at, wanted, 0) > Missed || last is null)
                {
                    var anew = new float[plates.Length];
                    if (solver.SolveAnew(anew, wanted, Rounds, Missed, last is null ? Places : 1) < enough)
                        at = anew;
                }
                found.Add(at);
                var off = Math.Min(FarOff, solver.Distance(at, wanted, 0));
                // Small areas catch the eye as well: shares count by their root.
                miss += Math.Sqrt(tone.Share) * off * off;
            }
        }
        return new(added, miss, plates, found);
    }
}
