using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>A plate before it is drawn.</summary>
/// <param name="Cost">Cost of a full coverage against colour error, in squared colour steps (<see cref="InkCosts"/>).</param>
/// <param name="Strokes">Strokes of each pass.</param>
internal sealed record TonalPlate(
    string Name,
    PlatePurpose Purpose,
    Ink Ink,
    Mesh Mesh,
    Screen Screen,
    double Cost,
    int Strokes,
    bool FlashAfter
)
{
    /// <summary>White that is of use on dark cloth only.</summary>
    public bool IsWhite => Purpose.IsBase || Purpose == PlatePurpose.HighlightWhite;
}

/// <summary>What tonal art is separated into.</summary>
/// <param name="Plates">In print order; at most <see cref="TonalJobs.MostPlates"/>.</param>
/// <param name="WhiteRuns">For each ground, whether base and highlight white run.</param>
/// <param name="InStep">All screens share ruling and angle, so dots lie on each other as far as register holds.</param>
/// <param name="TotalInk">Limit of the sum of coverages.</param>
internal sealed record TonalJob(
    PrintMethod Method,
    ImmutableArray<Ground> Grounds,
    SpotSettings Settings,
    ImmutableArray<TonalPlate> Plates,
    ImmutableArray<bool> WhiteRuns,
    bool InStep,
    double TotalInk
)
{
    /// <summary>Every white plate that runs on a ground at full coverage; empty where none does.</summary>
    public float[] FullWhites(int ground) =>
        WhiteRuns[ground] && Plates.Any(p => p.IsWhite) ? [.. Plates.Select(p => p.IsWhite ? 1f : 0f)] : [];

    /// <summary>Plates that run on a ground, each as often as it is printed.</summary>
    public ImmutableArray<(int Plate, bool FlashAfter)> RunsOn(int ground)
    {
        var runs = ImmutableArray.CreateBuilder<(int, bool)>();
        for (var i = 0; i < Plates.Length; i++)
        {
            if (Plates[i].IsWhite && !WhiteRuns[ground])
                continue;
            var twice = Plates[i].Purpose.IsBase && Settings.PrintFlashPrint;
            runs.Add((i, Plates[i].FlashAfter || twice));
            if (twice)
                runs.Add((i, Plates[i].FlashAfter));
        }
        return runs.ToImmutable();
    }
}
