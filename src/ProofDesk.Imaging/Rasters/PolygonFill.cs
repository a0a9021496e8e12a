namespace ProofDesk.Imaging.Rasters;

/// <summary>Which side of overlapping contours is inside.</summary>
public enum FillRule
{
    NonZero,
    EvenOdd,
}

/// <summary>
/// Antialiased polygons on a byte plane. Each pixel row is cut into 16 lines; along a line the covered length is exact
/// to 1/256 px. Pixel (x, y) covers the square from (x, y) to (x + 1, y + 1). Contours are closed by themselves.
/// </summary>
public static class PolygonFill
{
    private const int LinesPerRow = 16;
    private const int SubPixel = 256;

    private readonly record struct Edge(double X, double Y, double Slope, double Bottom, int Winding);

    /// <summary>
    /// Paints the polygon: a pixel becomes a mix of what it was and <paramref name="value"/> by coverage. So 255 adds ink,
    /// 0 knocks out.
    /// </summary>
    public static void Fill(
        BytePlane target,
        IReadOnlyList<(double X, double Y)[]> contours,
        FillRule rule = FillRule.NonZero,
        byte value = 255
    )
    {
        var edges = Edges(contours, target.Height);
        if (edges.Length == 0)
            return;
        var rows = EdgesByRow(edges, target.Height, out var starts);
        RowLoop.Run(
            target.Height,
            target.Width,
            y =>
            {
                var touching = rows.AsSpan(starts[y], starts[y + 1] - starts[y]);
                if (touching.Length > 0)
                    FillRow(target.Row(y), y, edges, touching, rule, value);
            }
        );
    }

    private static Edge[] Edges(IReadOnlyList<(double X, double Y)[]> contours, int height)
    {
        var edges = new List<Edge>();
        foreach (var contour in contours)
        {
            for (var i = 0; i < contour.Length; i++)
            {
                var a = contour[i];
                var b = contour[i + 1 == contour.Length ? 0 : i + 1];
                if (!double.IsFinite(a.X + a.Y))
                    throw new ArgumentException($"point {i} of a contour is ({a.X}, {a.Y}); give finite numbers");
                if (a.Y == b.Y)
                    continue;
                var (top, bottom, winding) = a.Y < b.Y ? (a, b, 1) : (b, a, -1);
                if (bottom.Y > 0 && top.Y < height)
                    edges.Add(new(top.X, top.Y, (bottom.X - top.X) / (bottom.Y - top.Y), bottom.Y, winding));
            }
        }
        return [.. edges];
    }

    /// <summary>Indices of the edges that touch each row, one row after the other.</summary>
    private static int[] EdgesByRow(Edge[] edges, int height, out int[] starts)
    {
        starts = new int[height + 1];
        foreach (var edge in edges)
        {
            var (first, last) = Rows(edge, height);
            for (var y = first; y <= last; y++)
                starts[y + 1]++;
        }
        for (var y = 0; y < height; y++)
            starts[y + 1] += starts[y];
        var rows = new int[starts[height]];
        var next = starts.AsSpan(0, height).ToArray();
        for (var e = 0; e < edges.Length; e++)
        {
            var (first, last) = Rows(edges[e], height);
            for (var y = first; y <= last; y++)
                rows[next[y]++] = e;
        }
        return rows;

        static (int First, int Last) Rows(Edge edge, int height) =>
            (
                (int)Math.Floor(Math.Clamp(edge.Y, 0, height - 1)),
                (int)Math.Floor(Math.Clamp(edge.Bottom, 0, height - 1))
            );
    }

    private static void FillRow(
        Span<byte> row,
        int y,
        Edge[] edges,
        ReadOnlySpan<int> touching,
        FillRule rule,
        byte value
    )
    {
        var width = row.Length;
        // Differences of coverage: whole pixels start and stop, the two end pixels of a run get their share.
        var coverage = new int[width + 2];
        Span<(int X, int Winding)> crossings =
            touching.Length <= 64 ? stackalloc (int, int)[touching.Length] : new (int, int)[touching.Length];
        for (var line = 0; line < LinesPerRow; line++)
        {
            var at = y + (line + 0.5) / LinesPerRow;
            var count = 0;
            foreach (var e in touching)
            {
                ref readonly var edge = ref edges[e];
                if (at < edge.Y || at >= edge.Bottom)
                    continue;
                var x = Math.Clamp(edge.X + (at - edge.Y) * edge.Slope, 0, width);
                crossings[count++] = ((int)Math.Round(x * SubPixel), edge.Winding);
            }
            var sorted = crossings[..count];
            sorted.Sort(static (a, b) => a.X.CompareTo(b.X));
            var winding = 0;
            for (var i = 0; i + 1 < count; i++)
            {
                winding += sorted[i].Winding;
                var inside = rule == FillRule.NonZero ? winding != 0 : (i & 1) == 0;
                if (inside)
                    AddRun(coverage, sorted[i].X, sorted[i + 1].X);
            }
        }
        var sum = 0;
        const int full = LinesPerRow * SubPixel;
        for (var x = 0; x < width; x++)
        {
            sum += coverage[x];
            if (sum == 0)
                continue;
            int old = row[x];
            row[x] = (byte)(old + Rounded((value - old) * sum, full));
        }

        static int Rounded(int a, int b) => a >= 0 ? (a + b / 2) / b : -((-a + b / 2) / b);
    }

    /// <summary>
    /// Adds the run from a to b (1/256 px). A step of coverage at a sub-pixel position is two differences: the part that
    /// falls in this pixel and the rest in the next.
    /// </summary>
    private static void AddRun(int[] coverage, int a, int b)
    {
        var (pixelA, restA) = (a / SubPixel, a % SubPixel);
        coverage[pixelA] += SubPixel - restA;
        coverage[pixelA + 1] += restA;
        var (pixelB, restB) = (b / SubPixel, b % SubPixel);
        coverage[pixelB] -= SubPixel - restB;
        coverage[pixelB + 1] -= restB;
    }
}
