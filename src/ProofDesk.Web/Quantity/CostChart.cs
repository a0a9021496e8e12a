using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Printing.Costs;

namespace ProofDesk.Web.Quantity;

/// <summary>A name at the end of its line, moved so that no two lie on each other.</summary>
public sealed record EndLabel(CostLine Line, double LineY, double TextY);

/// <summary>A place where another method gets cheapest.</summary>
public sealed record CrossMark(Crossover Crossover, double X, double Y);

/// <summary>
/// Geometry of the chart: quantity on a logarithmic axis, cost per shirt on a plain one that begins at nothing. Lines leave at the top where
/// few pieces cost more than the chart shows; the table has those numbers.
/// </summary>
public sealed class CostChart
{
    private const double LabelGap = 19;
    private const double LeastApart = 40;

    private readonly ImmutableArray<CostLine> _lines;
    private readonly double _left = 52;
    private readonly double _top = 34;
    private readonly double _right;
    private readonly double _bottom;

    public CostChart(
        ImmutableArray<CostLine> lines,
        ImmutableArray<Crossover> crossovers,
        int pieces,
        int most,
        bool narrow
    )
    {
        (_lines, Pieces, Most, IsNarrow) = (lines, pieces, most, narrow);
        (Width, Height) = narrow ? (360, 420) : (1000, 470);
        (_right, _bottom) = (Width - (narrow ? 26 : 240), Height - 52);
        Top = TopOf(lines, pieces, most);
        Labels = Spread();
        Marks =
        [
            .. crossovers
                .Select(c => (Crossover: c, Line: lines.FirstOrDefault(l => l.Print.MethodId == c.From)))
                .Where(c => c.Line is not null && c.Line.At(c.Crossover.Pieces) <= Top)
                .Select(c => new CrossMark(c.Crossover, X(c.Crossover.Pieces), Y(c.Line!.At(c.Crossover.Pieces)))),
        ];
    }

    public double Width { get; }
    public double Height { get; }
    public int Pieces { get; }
    public int Most { get; }

    /// <summary>For a phone: names stand in the key below instead of at the ends.</summary>
    public bool IsNarrow { get; }
    public double Top { get; }
    public ImmutableArray<EndLabel> Labels { get; }
    public ImmutableArray<CrossMark> Marks { get; }
    public double Left => _left;
    public double Right => _right;
    public double Ceiling => _top;
    public double Floor => _bottom;
    public string ViewBox => $"0 0 {N(Width)} {N(Height)}";

    public double X(double pieces) => _left + (_right - _left) * Math.Log(pieces) / Math.Log(Most);

    public double Y(double cost) => _bottom - (_bottom - _top) * cost / Top;

    /// <summary>Quantities people think in.</summary>
    public IEnumerable<int> Ticks =>
        (
            (int[])(
                IsNarrow
                    ? [1, 3, 10, 30, 100, 300, 1000, 3000, 10_000]
                    : [1, 2, 3, 6, 12, 24, 48, 72, 144, 300, 500, 1000, 2000, 5000, 10_000]
            )
        ).Where(n => n <= Most);

    public IEnumerable<double> Costs
    {
        get
        {
            var rough = Top / (IsNarrow ? 5 : 6);
            var ten = Math.Pow(10, Math.Floor(Math.Log10(rough)));
            var step = ten * ((double[])[1, 2, 5, 10]).First(f => f * ten >= rough);
            for (var i = 0; i * step <= Top; i++)
                yield return i * step;
        }
    }

    /// <summary>Steps of the garments' price.</summary>
    public IEnumerable<PriceBreak> Breaks =>
        _lines.IsEmpty ? [] : _lines[0].Card.GarmentBreaks.Where(b => b.From > 1 && b.From < Most);

    /// <summary>Those whose share has room above them.</summary>
    public IEnumerable<PriceBreak> NamedBreaks
    {
        get
        {
            var last = double.NegativeInfinity;
            foreach (var step in Breaks)
                if (X(step.From) - last >= LeastApart)
                {
                    last = X(step.From);
                    yield return step;
                }
        }
    }

    /// <summary>Every quantity to a hundred, then each hundredth more; a step of price goes straight down where it begins.</summary>
    public string Path(CostLine line)
    {
        var path = new StringBuilder();
        var steps = line.Steps;
        foreach (var n in Quantities(steps))
        {
            if (steps.Contains(n) && path.Length > 0)
                Point(path, n, line.BeforeStep(n));
            Point(path, n, line.At(n));
        }
        return path.ToString();
    }

    private void Point(StringBuilder path, int pieces, double cost) =>
        // What lies far above is cut at the clip; numbers stay small.
        path.Append(path.Length == 0 ? 'M' : 'L').Append(N(X(pieces))).Append(' ').Append(N(Math.Max(Y(cost), -2000)));

    private IEnumerable<int> Quantities(ImmutableArray<int> steps)
    {
        var between = 0;
        for (var n = 1; n <= Most; n++)
        {
            if (n > 100 && n < between && n != Most && !steps.Contains(n))
                continue;
            yield return n;
            between = (int)Math.Ceiling(n * 1.01);
        }
    }

    private ImmutableArray<EndLabel> Spread()
    {
        var ends = _lines.Select(l => (Line: l, Y: Y(l.At(Most)))).OrderBy(l => l.Y).ToArray();
        var texts = ends.Select(e => e.Y).ToArray();
        for (var i = 1; i < texts.Length; i++)
            texts[i] = Math.Max(texts[i], texts[i - 1] + LabelGap);
        // Pushed past the floor they go up again together.
        if (texts.Length > 0 && texts[^1] > _bottom)
        {
            texts[^1] = _bottom;
            for (var i = texts.Length - 2; i >= 0; i--)
                texts[i] = Math.Min(texts[i], texts[i + 1] - LabelGap);
        }
        return [.. ends.Select((e, i) => new EndLabel(e.Line, e.Y, texts[i]))];
    }

    /// <summary>High enough for every line at its end, for the chosen quantity and for the start of the cheapest, unless that hides all the rest.</summary>
    private static double TopOf(ImmutableArray<CostLine> lines, int pieces, int most) =>
        lines.IsEmpty
            ? 1
            : 1.12
                * Math.Max(
                    Math.Max(
                        lines.Max(l => l.At(most)),
                        Math.Min(1.5 * lines.Min(l => l.At(1)), 4 * lines.Min(l => l.At(most)))
                    ),
                    lines.Where(l => l.At(pieces) < 4 * lines.Min(m => m.At(pieces))).Max(l => l.At(pieces))
                );

    public static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
