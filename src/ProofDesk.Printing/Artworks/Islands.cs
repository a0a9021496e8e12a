using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>A connected area of a plane.</summary>
/// <param name="Area">Pixels.</param>
/// <param name="TouchesBorder">Whether it reaches the border of the plane.</param>
internal readonly record struct Island(long Area, int Left, int Top, int Right, int Bottom, bool TouchesBorder)
{
    public int Width => Right - Left + 1;
    public int Height => Bottom - Top + 1;
}

/// <summary>
/// Connected areas of a plane, found by joining runs of rows (union-find; Rosenfeld and Pfaltz 1966). Ink joins over
/// corners (8 neighbours), blank only over sides (4), so that a diagonal hairline still separates what it separates.
/// </summary>
internal sealed class Islands
{
    private readonly List<(int Y, int From, int To, int Set)> _runs = [];
    private readonly List<int> _parents = [];
    private readonly Dictionary<int, Island> _islands = [];
    private readonly BytePlane _plane;

    private Islands(BytePlane plane) => _plane = plane;

    public IReadOnlyCollection<Island> All => _islands.Values;

    /// <summary>Areas of ink (value at or above <paramref name="threshold"/>), or of blank.</summary>
    public static Islands Find(BytePlane plane, bool ink = true, byte threshold = 128)
    {
        var found = new Islands(plane);
        var (aboveFrom, aboveTo) = (0, 0);
        for (var y = 0; y < plane.Height; y++)
        {
            var first = found._runs.Count;
            found.ReadRow(y, ink, threshold);
            var above = aboveFrom;
            for (var i = first; i < found._runs.Count; i++)
            {
                var run = found._runs[i];
                var reach = ink ? 1 : 0;
                while (above < aboveTo && found._runs[above].To + reach < run.From)
                    above++;
                for (var j = above; j < aboveTo && found._runs[j].From <= run.To + reach; j++)
                    found.Join(run.Set, found._runs[j].Set);
            }
            (aboveFrom, aboveTo) = (first, found._runs.Count);
        }
        found.Measure();
        return found;
    }

    /// <summary>Every run of every area, row by row: its area, y, first and last x.</summary>
    public IEnumerable<(Island Area, int Y, int From, int To)> Runs =>
        _runs.Select(run => (_islands[Root(run.Set)], run.Y, run.From, run.To));

    /// <summary>Writes <paramref name="value"/> over every area that <paramref name="which"/> picks, with a rim of one pixel for its antialiased edge.</summary>
    public void Paint(BytePlane target, byte value, Func<Island, bool> which)
    {
        foreach (var run in _runs)
        {
            if (!which(_islands[Root(run.Set)]))
                continue;
            for (var y = Math.Max(0, run.Y - 1); y <= Math.Min(target.Height - 1, run.Y + 1); y++)
            for (var x = Math.Max(0, run.From - 1); x <= Math.Min(target.Width - 1, run.To + 1); x++)
                if (y == run.Y && x >= run.From && x <= run.To || _plane[x, y] is > 0 and < 255)
                    target[x, y] = value;
        }
    }

    private void ReadRow(int y, bool ink, byte threshold)
    {
        var row = _plane.Row(y);
        var x = 0;
        while (x < row.Length)
        {
            x += Run(row[x..], threshold, !ink);
            if (x == row.Length)
                break;
            var from = x;
            x += Run(row[x..], threshold, ink);
            _runs.Add((y, from, x - 1, _parents.Count));
            _parents.Add(_parents.Count);
        }
    }

    /// <summary>Pixels from the first one on that are all ink, or all blank.</summary>
    private static int Run(ReadOnlySpan<byte> row, byte threshold, bool ink)
    {
        if (threshold == 0)
            return ink ? row.Length : 0;
        var end = ink
            ? row.IndexOfAnyInRange((byte)0, (byte)(threshold - 1))
            : row.IndexOfAnyInRange(threshold, byte.MaxValue);
        return end < 0 ? row.Length : end;
    }

    private int Root(int set)
    {
        while (_parents[set] != set)
            set = _parents[set] = _parents[_parents[set]];
        return set;
    }

    private void Join(int a, int b)
    {
        var (x, y) = (Root(a), Root(b));
        _parents[Math.Max(x, y)] = Math.Min(x, y);
    }

    private void Measure()
    {
        foreach (var (y, from, to, set) in _runs)
        {
            var root = Root(set);
            var border = y == 0 || y == _plane.Height - 1 || from == 0 || to == _plane.Width - 1;
            var one = new Island(to - from + 1, from, y, to, y, border);
            _islands[root] = _islands.TryGetValue(root, out var known)
                ? new(
                    known.Area + one.Area,
                    Math.Min(known.Left, from),
                    known.Top,
                    Math.Max(known.Right, to),
                    y,
                    known.TouchesBorder || border
                )
                : one;
        }
    }
}
