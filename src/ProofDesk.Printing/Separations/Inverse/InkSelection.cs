using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Mixed;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Which inks a picture needs: one after the other, each time the one whose plates come nearest to the picture's colours by the
/// forward model; after each, places already taken are looked at again. Each count goes on from the one before, so that a table
/// of all counts and the job that takes one of them agree.
/// </summary>
internal sealed class InkSelection
{
    private const int Tones = 90;
    private const int Rounds = 14;

    /// <summary>A tone missed by more than this counts no further: it is out of reach and would pull everything.</summary>
    private const double FarOff = 25;

    /// <summary>Nearer than this a solution is not looked for anew.</summary>
    private const double Missed = 2;

    /// <summary>Places to begin from: a shelf is judged by many tones, of which each may be a little off.</summary>
    private const int Places = 3;

    /// <summary>Up to so many inks every place is looked at again, beyond only the one that is missed least.</summary>
    private const int SmallSet = 4;

    /// <summary>From so many inks on black is one of them wherever the cloth is not black itself.</summary>
    private const int WithBlack = 3;

    private readonly ImmutableArray<ToneShare> _tones;
    private readonly Func<ImmutableArray<Ink>, TonalJob> _job;
    private readonly ImmutableArray<Ink> _shelf;
    private readonly ImmutableArray<Ink> _must;
    private readonly ImmutableArray<Ink> _held;
    private readonly Ink? _black;
    private readonly (int Ground, KnownColours Known)[] _grounds;

    /// <summary>What the next trials begin from.</summary>
    private Trial? _last;

    private InkSelection(
        ImmutableArray<ToneShare> tones,
        Func<ImmutableArray<Ink>, TonalJob> job,
        ImmutableArray<Ink> shelf,
        ImmutableArray<Ink> must,
        ImmutableArray<Ink> held
    )
    {
        (_tones, _job, _shelf, _must, _held) = (Families(tones, 5, Tones), job, shelf, must, held);
        // Black carries the drawing (common practice).
        _black = shelf.FirstOrDefault(i => i.Role == InkRole.Black);
        var all = job(shelf);
        // A shelf is chosen for the ground that asks most and for the one that asks least.
        var order = Enumerable.Range(0, all.Grounds.Length).OrderBy(g => TonalJobs.Cloth(all.Grounds[g]).L).ToArray();
        int[] looked = order.Length > 1 ? [order[0], order[^1]] : order;
        _grounds = [.. looked.Select(g => (g, new KnownColours(all, g, quick: true)))];
    }

    /// <summary>The inks for each count, from one or as many as must be used up to <paramref name="most"/> or the whole shelf.</summary>
    /// <param name="must">Inks of every set.</param>
    /// <param name="held">Inks that flat parts of the art ask for, the most wanted first: as many of them as <see cref="FlatInks.Most"/> grants a count.</param>
    public static ImmutableArray<ImmutableArray<Ink>> Ladder(
        ImmutableArray<ToneShare> tones,
        Func<ImmutableArray<Ink>, TonalJob> job,
        ImmutableArray<Ink> shelf,
        ImmutableArray<Ink> must,
        ImmutableArray<Ink> held,
        int most
    )
    {
        shelf = [.. shelf.Concat(held).DistinctBy(i => i.Id)];
        var selection = new InkSelection(tones, job, shelf, must, held);
        var chosen = must.ToList();
        var steps = ImmutableArray.CreateBuilder<ImmutableArray<Ink>>();
        if (chosen.Count > 0)
            steps.Add([.. chosen]);
        while (chosen.Count < Math.Min(most, shelf.Length))
        {
            selection.Add(chosen);
            steps.Add([.. chosen]);
        }
        return steps.ToImmutable();
    }

    /// <summary>
    /// Tones gathered in cells of a few bits a side, so that many shades of one colour do not crowd out a small area of another;
    /// the largest of them.
    /// </summary>
    public static ImmutableArray<ToneShare> Families(ImmutableArray<ToneShare> tones, int dropBits, int most) =>
        [
            .. tones
                .GroupBy(t => (Cell(t.Colour.R, dropBits), Cell(t.Colour.G, dropBits), Cell(t.Colour.B, dropBits)))
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
                .Take(most),
        ];

    private static int Cell(double linear, int dropBits) =>
        (int)(255.999 * Srgb.Encode(Math.Clamp(linear, 0, 1))) >> dropBits;

    /// <summary>A set of inks tried: how far it misses the tones, and the coverages found for each tone on each ground.</summary>
    private sealed record Trial(double Miss, ImmutableArray<string> Plates, List<float[]> Found);

    private void Add(List<Ink> chosen)
    {
        var count = chosen.Count + 1;
        var asked = Held(count).Find(ink => !chosen.Contains(ink));
        if (asked is null && count >= WithBlack && _black is not null && !chosen.Contains(_black))
            asked = _black;
        if (asked is not null)
        {
            chosen.Add(asked);
            _last = Try([.. chosen]);
        }
        else
            chosen.Add(Best(chosen));
        if (chosen.Count == 1)
            return;
        var places = Enumerable.Range(0, chosen.Count).Where(i => !Stays(chosen[i], chosen.Count)).ToArray();
        if (chosen.Count > SmallSet && places.Length > 0)
        {
            var without = TryAll([.. places.Select(i => chosen.Where((_, k) => k != i).ToArray())]);
            places = [places[Least(without)]];
        }
        foreach (var place in places)
            chosen[place] = Best([.. chosen.Where((_, k) => k != place)]);
    }

    private bool Stays(Ink ink, int count) =>
        _must.Contains(ink) || Held(count).Contains(ink) || ink == _black && count >= WithBlack;

    private List<Ink> Held(int count) => [.. _held.Take(FlatInks.Most(count, free: false))];

    private Ink Best(List<Ink> with)
    {
        var candidates = _shelf.Where(ink => !with.Contains(ink)).ToArray();
        var trials = TryAll([.. candidates.Select(ink => (Ink[])[.. with, ink])]);
        var least = Least(trials);
        _last = trials[least];
        return candidates[least];
    }

    private static int Least(Trial[] trials) => Array.IndexOf(trials, trials.MinBy(t => t.Miss)!);

    private Trial[] TryAll(Ink[][] sets)
    {
        var trials = new Trial[sets.Length];
        Parallel.For(0, sets.Length, i => trials[i] = Try(sets[i]));
        return trials;
    }

    private Trial Try(Ink[] inks)
    {
        var job = _job([.. inks]);
        var costs = InkCosts.Of(job);
        ImmutableArray<string> plates = [.. job.Plates.Select(p => $"{p.Purpose} {p.Ink.Id}")];
        var before = plates.Select(name => _last?.Plates.IndexOf(name) ?? -1).ToArray();
        var found = new List<float[]>();
        var miss = 0.0;
        foreach (var (ground, known) in _grounds)
        {
            var cloth = TonalJobs.Cloth(job.Grounds[ground]);
            var solver = new CoverageSolver([known.Model(job)], [1], costs);
            var gamut = PrintGamut.Ends(
                solver,
                job.Plates.Length,
                job.FullWhites(ground),
                ClothShows.ByDefault(new(0, 0, 0), cloth),
                ClothShows.IsPale(cloth)
            );
            foreach (var tone in _tones)
            {
                var ideal = gamut.Ideal(tone.Colour);
                double[] wanted = [PlateModel.Scale * ideal.L, PlateModel.Scale * ideal.A, PlateModel.Scale * ideal.B];
                var at = new float[plates.Length];
                // From what served without the new ink, as most tones hardly change; anew where that misses.
                var enough = double.MaxValue;
                if (_last is not null)
                {
                    for (var i = 0; i < at.Length; i++)
                        at[i] = before[i] < 0 ? 0.25f : _last.Found[found.Count][before[i]];
                    enough = solver.Solve(at, wanted, [], 0, Rounds);
                }
                if (solver.Distance(at, wanted, 0) > Missed || _last is null)
                {
                    var anew = new float[plates.Length];
                    if (solver.SolveAnew(anew, wanted, Rounds, Missed, _last is null ? Places : 1) < enough)
                        at = anew;
                }
                found.Add(at);
                var off = Math.Min(FarOff, solver.Distance(at, wanted, 0));
                // Small areas catch the eye as well: shares count by their root.
                miss += Math.Sqrt(tone.Share) * off * off;
            }
        }
        return new(miss, plates, found);
    }
}
