namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Islands and holes too small to print: connected areas of at least a tone (8-connected) that have fewer pixels than asked for
/// become blank, enclosed areas below it (4-connected) are filled from what lies on both sides. Lines are long and
/// stay. Runs of each row are joined to those they touch in the row above.
/// </summary>
public static class Freckles
{
    /// <summary>Cleans the plane in place.</summary>
    /// <param name="tone">What counts as ink.</param>
    /// <param name="leastPixels">Smallest area that stays.</param>
    public static (int Islands, int Holes) Clean(BytePlane plane, byte tone, int leastPixels)
    {
        var islands = Each(plane, tone, leastPixels, ink: true);
        var holes = Each(plane, tone, leastPixels, ink: false);
        return (islands, holes);
    }

    private readonly record struct Run(int Y, int Start, int End);

    private static int Each(BytePlane plane, byte tone, int leastPixels, bool ink)
    {
        var runs = new List<Run>();
        var firstOfRow = new int[plane.Height + 1];
        for (var y = 0; y < plane.Height; y++)
        {
            firstOfRow[y] = runs.Count;
            var row = plane.Row(y);
            for (var x = 0; x < row.Length; )
            {
                var start = x;
                var here = row[x] >= tone;
                var length = here
                    ? row[x..].IndexOfAnyExceptInRange(tone, (byte)255)
                    : row[x..].IndexOfAnyInRange(tone, (byte)255);
                x = length < 0 ? row.Length : x + length;
                if (here == ink)
                    runs.Add(new(y, start, x));
            }
        }
        firstOfRow[plane.Height] = runs.Count;
        var parent = new int[runs.Count];
        for (var i = 0; i < parent.Length; i++)
            parent[i] = i;
        // Ink also touches over corners, so what is not ink does not.
        var reach = ink ? 1 : 0;
        for (var y = 1; y < plane.Height; y++)
        {
            var above = firstOfRow[y - 1];
            for (var i = firstOfRow[y]; i < firstOfRow[y + 1]; i++)
            {
                while (above < firstOfRow[y] && runs[above].End + reach <= runs[i].Start)
                    above++;
                for (var j = above; j < firstOfRow[y] && runs[j].Start < runs[i].End + reach; j++)
                    parent[Root(parent, i)] = Root(parent, j);
            }
        }
        var sizes = new long[runs.Count];
        var open = new bool[runs.Count];
        for (var i = 0; i < parent.Length; i++)
        {
            var (root, run) = (Root(parent, i), runs[i]);
            sizes[root] += run.End - run.Start;
            // Blank that reaches the border is the outside and no hole.
            open[root] |= !ink && (run.Y == 0 || run.Y == plane.Height - 1 || run.Start == 0 || run.End == plane.Width);
        }
        var cleaned = 0;
        for (var i = 0; i < parent.Length; i++)
        {
            var root = Root(parent, i);
            if (sizes[root] >= leastPixels || open[root])
                continue;
            if (root == i)
                cleaned++;
            var run = runs[i];
            var row = plane.Row(run.Y);
            var fill = ink ? (byte)0 : (byte)((row[run.Start - 1] + row[run.End]) / 2);
            row[run.Start..run.End].Fill(fill);
        }
        return cleaned;
    }

    private static int Root(int[] parent, int i)
    {
        while (parent[i] != i)
            i = parent[i] = parent[parent[i]];
        return i;
    }
}
