using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>Connected areas of equal label (over sides), as runs of rows joined by union-find (Rosenfeld and Pfaltz 1966).</summary>
internal sealed class RegionRuns
{
    private readonly List<(int Set, int Y, int From, int To)> _runs = [];
    private readonly List<int> _parents = [];

    /// <summary>Every run: its area, y, first and last x.</summary>
    public IEnumerable<(int Root, int Y, int From, int To)> All =>
        _runs.Select(run => (Root(run.Set), run.Y, run.From, run.To));

    public static RegionRuns Of(BytePlane labels)
    {
        var found = new RegionRuns();
        var (aboveFrom, aboveTo) = (0, 0);
        for (var y = 0; y < labels.Height; y++)
        {
            var row = labels.Row(y);
            var first = found._runs.Count;
            for (var x = 0; x < row.Length; )
            {
                var start = row[x..].IndexOfAnyExcept(FlatRegions.None);
                if (start < 0)
                    break;
                x += start;
                var length = row[x..].IndexOfAnyExcept(row[x]);
                var end = length < 0 ? row.Length : x + length;
                found._runs.Add((found._parents.Count, y, x, end - 1));
                found._parents.Add(found._parents.Count);
                x = end;
            }
            var above = aboveFrom;
            for (var i = first; i < found._runs.Count; i++)
            {
                var run = found._runs[i];
                while (above < aboveTo && found._runs[above].To < run.From)
                    above++;
                for (var j = above; j < aboveTo && found._runs[j].From <= run.To; j++)
                    if (labels[found._runs[j].From, y - 1] == row[run.From])
                        found.Join(run.Set, found._runs[j].Set);
            }
            (aboveFrom, aboveTo) = (first, found._runs.Count);
        }
        return found;
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
}
