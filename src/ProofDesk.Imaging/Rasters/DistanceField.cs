namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Exact Euclidean distances between pixel centres, px. First down the columns, then along each row the lower envelope
/// of parabolas (Felzenszwalb and Huttenlocher 2012, "Distance transforms of sampled functions", Theory of Computing
/// 8:415). When only distances up to a limit matter (chokes, traps) the second pass looks at 2 x limit + 1 neighbours
/// instead, with whole vectors.
/// </summary>
public static class DistanceField
{
    /// <summary>Distance to the nearest pixel with mask &gt;= threshold; 0 on such a pixel.</summary>
    /// <param name="mask">The plane; row by row from the top left, as the result.</param>
    /// <param name="threshold">From this value on a pixel is ink.</param>
    /// <param name="limit">Larger distances (and "no ink at all") are given as this; smaller limits are faster.</param>
    public static float[] ToInk(BytePlane mask, byte threshold = 128, float limit = float.PositiveInfinity) =>
        Distances(mask, threshold, ink: true, limit);

    /// <summary>Distance to the nearest pixel with mask &lt; threshold; 0 on such a pixel. Outside the plane counts as ink.</summary>
    public static float[] ToBlank(BytePlane mask, byte threshold = 128, float limit = float.PositiveInfinity) =>
        Distances(mask, threshold, ink: false, limit);

    private static float[] Distances(BytePlane mask, byte threshold, bool ink, float limit)
    {
        if (!(limit >= 0))
            throw new ArgumentException($"a limit of distance is at least 0 px; {limit} given");
        var (width, height) = (mask.Width, mask.Height);
        // Anything farther than this is "none": larger than every true distance in the plane.
        var none = width + height;
        var near = limit <= 24;
        var reach = near ? (int)Math.Ceiling(limit) : none;
        var down = DownColumns(mask, threshold, ink, near ? reach + 1 : none);
        var distances = new float[(long)width * height];
        RowLoop.Run(
            height,
            width * 4,
            y =>
            {
                var column = down.AsSpan(y * width, width);
                var row = distances.AsSpan(y * width, width);
                if (near)
                    DistanceRows.Window(column, row, reach, limit);
                else
                    DistanceRows.Envelope(column, row, none, limit);
            }
        );
        return distances;
    }

    /// <summary>Distance within the column, at most <paramref name="most"/>.</summary>
    private static int[] DownColumns(BytePlane mask, byte threshold, bool ink, int most)
    {
        var (width, height) = (mask.Width, mask.Height);
        var down = new int[(long)width * height];
        RowLoop.RunBands(
            width,
            1024,
            (left, count) =>
            {
                for (var y = 0; y < height; y++)
                {
                    var source = mask.Row(y).Slice(left, count);
                    var row = down.AsSpan(y * width + left, count);
                    var above = y == 0 ? default : down.AsSpan((y - 1) * width + left, count);
                    for (var x = 0; x < count; x++)
                    {
                        var hit = source[x] >= threshold == ink;
                        row[x] =
                            hit ? 0
                            : y == 0 ? most
                            : Math.Min(above[x] + 1, most);
                    }
                }
                for (var y = height - 2; y >= 0; y--)
                {
                    var row = down.AsSpan(y * width + left, count);
                    var below = down.AsSpan((y + 1) * width + left, count);
                    for (var x = 0; x < count; x++)
                        row[x] = Math.Min(row[x], below[x] + 1);
                }
            }
        );
        return down;
    }
}
