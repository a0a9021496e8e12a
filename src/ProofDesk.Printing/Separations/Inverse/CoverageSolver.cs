using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>What the coverages are weighed by besides the colour.</summary>
/// <param name="Costs">Cost of a full coverage of each plate, in squared colour steps: saves ink, and settles which of many equal solutions is taken.</param>
/// <param name="TotalInk">Sum of coverages from which more ink is punished.</param>
/// <param name="IsWhite">Base and highlight white.</param>
internal sealed record InkCosts(ImmutableArray<double> Costs, double TotalInk, ImmutableArray<bool> IsWhite)
{
    /// <summary>Plate of the base and of the highlight white that lies on it; null = not both are there.</summary>
    public (int Base, int Highlight)? OnBase { get; init; }

    public static InkCosts Of(TonalJob job)
    {
        var (white, highlight) = (-1, -1);
        for (var i = 0; i < job.Plates.Length; i++)
            if (job.Plates[i].Purpose.IsBase)
                white = i;
            else if (job.Plates[i].Purpose == PlatePurpose.HighlightWhite)
                highlight = i;
        return new([.. job.Plates.Select(p => p.Cost)], job.TotalInk, [.. job.Plates.Select(p => p.IsWhite)])
        {
            OnBase = white >= 0 && highlight >= 0 ? (white, highlight) : null,
        };
    }
}

/// <summary>
/// Coverages whose forward model comes nearest to the wanted colours on one or several grounds: damped least squares in
/// Oklab ([LEVENBERG-1944], [MARQUARDT-1963]) inside the box 0..1, each step a small quadratic problem solved by
/// coordinate descent. Colour is judged in CIEDE2000 afterwards; that formula has jumps a slope cannot follow.
/// One a thread.
/// </summary>
internal sealed class CoverageSolver
{
    /// <summary>Weight of squared ink beyond the limit.</summary>
    private const double OverInk = 400;

    /// <summary>
    /// Weight of squared highlight white beyond the base below it: it is the second white over the first and not a finer
    /// base of its own, which would print greys in two ways that meet in a line (common practice).
    /// </summary>
    private const double BesideBase = 60;

    private readonly PlateModel[] _models;
    private readonly double[] _weights;
    private readonly InkCosts _costs;
    private readonly int _n;
    private readonly PlateModel.Work _work;
    private readonly double[] _slopes;
    private readonly BoxDescent _descent;
    private readonly float[] _trial;
    private readonly float[] _most;
    private readonly StartPlaces _starts;
    private bool _soft;

    /// <summary>Plates that run on none of the grounds stay at nothing.</summary>
    public CoverageSolver(IReadOnlyList<PlateModel> models, IReadOnlyList<double> weights, InkCosts costs)
    {
        (_models, _weights, _costs) = ([.. models], [.. weights], costs);
        _n = models[0].Plates;
        _work = new(_n);
        _descent = new(_n);
        _slopes = new double[3 * _descent.Stride];
        _trial = new float[_n];
        _most = [.. Enumerable.Range(0, _n).Select(i => _models.Any(m => m.Runs(i)) ? 1f : 0f)];
        _starts = new(_models[0], _work, costs.IsWhite, _most);
    }

    /// <summary>
    /// The best solution from several places: colour without a base has no slope, so one start may not see what a base would do.
    /// </summary>
    /// <param name="enough">What is left below which no further place is tried.</param>
    /// <param name="places">At most so many places.</param>
    public double SolveAnew(
        Span<float> at,
        ReadOnlySpan<double> wanted,
        int rounds,
        double enough,
        int places = StartPlaces.Count
    )
    {
        Span<float> trial = stackalloc float[_n];
        var least = double.MaxValue;
        for (var start = 0; start < places && least > enough; start++)
        {
            _starts.Fill(trial, wanted, start);
            var cost = Solve(trial, wanted, [], 0, rounds);
            if (cost >= least - 0.05)
                continue;
            least = cost;
            trial.CopyTo(at);
        }
        return least;
    }

    /// <summary>Moves <paramref name="at"/> to a solution and returns what is left of the objective.</summary>
    /// <param name="wanted">Oklab x 100, three numbers for each ground.</param>
    /// <param name="near">Coverages to stay near; empty = anywhere.</param>
    public double Solve(Span<float> at, ReadOnlySpan<double> wanted, ReadOnlySpan<float> near, double pull, int rounds)
    {
        for (var i = 0; i < _n; i++)
            at[i] = Math.Clamp(at[i], 0, _most[i]);
        _soft = false;
        var cost = Linearise(at, wanted, near, pull);
        var damping = 1.0;
        for (var round = 0; round < rounds; round++)
        {
            _descent.Descend(at, _most, damping);
            var step = _descent.Step;
            var moved = 0.0;
            for (var i = 0; i < _n; i++)
            {
                _trial[i] = (float)Math.Clamp(at[i] + step[i], 0, _most[i]);
                moved = Math.Max(moved, Math.Abs(_trial[i] - at[i]));
            }
            if (moved < 1e-4)
                break;
            var next = Cost(_trial, wanted, near, pull);
            if (next < cost)
            {
                var gained = cost - next;
                _trial.CopyTo(at);
                damping = Math.Max(1e-3, damping / 6);
                cost = Linearise(at, wanted, near, pull);
                if (gained < 1e-4 * (1e-2 + cost))
                    break;
            }
            else
            {
                damping *= 8;
                if (damping > 1e7)
                    break;
                if (!_models[0].HasKinks)
                    continue;
                // Stuck on a kink, one side's slope leads nowhere: by turns the softer one.
                _soft = !_soft;
                cost = Linearise(at, wanted, near, pull);
            }
        }
        return cost;
    }

    /// <summary>Distance to the wanted colour on one ground, Oklab x 100.</summary>
    public double Distance(ReadOnlySpan<float> at, ReadOnlySpan<double> wanted, int ground)
    {
        var (l, a, b) = _models[ground].At(at, _work);
        var (dl, da, db) = (l - wanted[3 * ground], a - wanted[3 * ground + 1], b - wanted[3 * ground + 2]);
        return Math.Sqrt(dl * dl + da * da + db * db);
    }

    /// <summary>Colour on one ground, Oklab x 100.</summary>
    public (double L, double A, double B) Colour(ReadOnlySpan<float> at, int ground) => _models[ground].At(at, _work);

    private double Cost(ReadOnlySpan<float> at, ReadOnlySpan<double> wanted, ReadOnlySpan<float> near, double pull)
    {
        var cost = Ink(at, near, pull, out _, out _);
        for (var g = 0; g < _models.Length; g++)
        {
            var distance = Distance(at, wanted, g);
            cost += _weights[g] * distance * distance;
        }
        return cost;
    }

    /// <summary>Cost, half its gradient and the Gauss-Newton matrix.</summary>
    private double Linearise(ReadOnlySpan<float> at, ReadOnlySpan<double> wanted, ReadOnlySpan<float> near, double pull)
    {
        var cost = Ink(at, near, pull, out var over, out var beside);
        _descent.Clear();
        var gradient = _descent.Gradient;
        var matrix = _descent.Matrix;
        var stride = _descent.Stride;
        for (var i = 0; i < _n; i++)
        {
            gradient[i] = _costs.Costs[i] / 2 + OverInk * over;
            if (near.Length > 0)
                gradient[i] += pull * (at[i] - near[i]);
            for (var j = 0; over > 0 && j < _n; j++)
                matrix[i * stride + j] = OverInk;
            matrix[i * stride + i] += near.Length > 0 ? pull : 0;
        }
        if (beside > 0)
        {
            var (white, highlight) = _costs.OnBase!.Value;
            gradient[highlight] += BesideBase * beside;
            gradient[white] -= BesideBase * beside;
            matrix[highlight * stride + highlight] += BesideBase;
            matrix[white * stride + white] += BesideBase;
            matrix[highlight * stride + white] -= BesideBase;
            matrix[white * stride + highlight] -= BesideBase;
        }
        for (var g = 0; g < _models.Length; g++)
        {
            var (l, a, b) = _models[g].At(at, _work, _slopes, stride, _soft);
            var (dl, da, db) = (l - wanted[3 * g], a - wanted[3 * g + 1], b - wanted[3 * g + 2]);
            cost += _weights[g] * (dl * dl + da * da + db * db);
            _descent.AddSquares(_slopes, _weights[g], (dl, da, db));
        }
        return cost;
    }

    private double Ink(
        ReadOnlySpan<float> at,
        ReadOnlySpan<float> near,
        double pull,
        out double over,
        out double beside
    )
    {
        double cost = 0,
            sum = 0;
        for (var i = 0; i < _n; i++)
        {
            cost += _costs.Costs[i] * at[i];
            sum += at[i];
            if (near.Length > 0)
                cost += pull * (at[i] - near[i]) * (at[i] - near[i]);
        }
        over = Math.Max(0, sum - _costs.TotalInk);
        beside = _costs.OnBase is { } pair ? Math.Max(0, at[pair.Highlight] - at[pair.Base]) : 0;
        return cost + OverInk * over * over + BesideBase * beside * beside;
    }
}
