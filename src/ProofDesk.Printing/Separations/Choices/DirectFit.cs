using System.Collections.Immutable;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// Plates solved for the colours of one picture alone, without the table that a whole separation reads: what a set of plates could
/// do, in a fraction of the time.
/// </summary>
internal static class DirectFit
{
    /// <summary>Colours looked at; those of a photograph beyond these cover a few per cent of it.</summary>
    public const int Tones = 300;

    /// <summary>With this much left, ink included, no further place is tried.</summary>
    private const double Enough = 1;

    /// <summary>The colours of a picture that are looked at.</summary>
    public static ImmutableArray<ToneShare> Look(ImmutableArray<ToneShare> tones) =>
        InkSelection.Families(tones, 4, Tones);

    /// <summary>Coverages of every plate for each of the colours, one set for all of these grounds.</summary>
    public static float[][] Coverages(
        TonalJob job,
        ImmutableArray<TonalGround> grounds,
        ImmutableArray<ToneShare> tones
    )
    {
        var costs = InkCosts.Of(job);
        var (solvedOn, weights) = TonalSeparator.SolvedOn(grounds);
        var models = solvedOn.Select(g => g.Model).ToArray();
        var coverages = new float[tones.Length][];
        Parallel.For(
            0,
            tones.Length,
            () => (Solver: new CoverageSolver(models, weights, costs), Wanted: new double[3 * models.Length]),
            (i, _, state) =>
            {
                SeparationTable.Target(solvedOn, tones[i].Colour, state.Wanted);
                coverages[i] = new float[job.Plates.Length];
                state.Solver.SolveAnew(coverages[i], state.Wanted, 60, Enough);
                return state;
            },
            _ => { }
        );
        return coverages;
    }
}
