using System.Collections.Concurrent;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>A point on the middle line of a narrow stroke.</summary>
/// <param name="HalfWidth">Distance to the edge, px.</param>
internal readonly record struct StrokePoint(int X, int Y, float HalfWidth);

/// <summary>
/// Middle lines of strokes narrower than a limit: pixels that are at least as far from the edge as both neighbours across, and
/// whose distance hardly changes along. The second condition leaves out the bisectors of corners, which are ridges too.
/// </summary>
internal static class Strokes
{
    private static readonly (int X, int Y)[] Across = [(1, 0), (0, 1), (1, 1), (1, -1)];

    /// <param name="limitPx">Half width up to which strokes count; at most the limit of <paramref name="distance"/>.</param>
    /// <param name="taper">How fast the half width may change along the stroke: sine of half the angle of its tip.</param>
    public static List<StrokePoint> Find(BytePlane drawing, EdgeDistance distance, double limitPx, double taper)
    {
        var rows = new ConcurrentDictionary<int, List<StrokePoint>>();
        RowLoop.Run(
            drawing.Height,
            drawing.Width,
            y =>
            {
                var steps = distance.Row(y);
                var row = drawing.Row(y);
                List<StrokePoint>? found = null;
                for (var x = 0; x < steps.Length; x++)
                {
                    var skip = steps[x..].IndexOfAnyExcept((byte)255);
                    if (skip < 0)
                        break;
                    x += skip;
                    if (row[x] < 128 || distance[x, y] > limitPx || !IsMiddle(drawing, distance, x, y, taper))
                        continue;
                    (found ??= []).Add(new(x, y, distance[x, y]));
                }
                if (found is not null)
                    rows[y] = found;
            }
        );
        return [.. rows.OrderBy(r => r.Key).SelectMany(r => r.Value)];
    }

    /// <summary>
    /// The points of strokes that are at least so long: each cell of that size must hold most of a stroke's length. Tips of
    /// corners leave a point or two each and are not strokes.
    /// </summary>
    public static List<StrokePoint> Long(List<StrokePoint> points, double lengthPx) =>
        [
            .. points
                .GroupBy(p => ((int)(p.X / lengthPx), (int)(p.Y / lengthPx)))
                .Where(cell => cell.Count() >= 0.7 * lengthPx)
                .SelectMany(cell => cell),
        ];

    private static bool IsMiddle(BytePlane drawing, EdgeDistance distance, int x, int y, double taper)
    {
        var here = distance[x, y];
        foreach (var (dx, dy) in Across)
        {
            if (here < Signed(drawing, distance, x + dx, y + dy) || here < Signed(drawing, distance, x - dx, y - dy))
                continue;
            var change = Signed(drawing, distance, x - dy, y + dx) - Signed(drawing, distance, x + dy, y - dx);
            if (Math.Abs(change) < 2 * taper * Math.Sqrt(dx * dx + dy * dy))
                return true;
        }
        return false;
    }

    /// <summary>Negative outside the drawing.</summary>
    private static float Signed(BytePlane drawing, EdgeDistance distance, int x, int y)
    {
        if (x < 0 || y < 0 || x >= drawing.Width || y >= drawing.Height)
            return -0.5f;
        return drawing[x, y] >= 128 ? distance[x, y] : -distance[x, y];
    }
}
