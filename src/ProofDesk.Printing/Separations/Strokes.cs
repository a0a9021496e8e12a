using System.Collections.Concurrent;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>A point on the middle line of a narrow stroke.</summary>
/// <param name="HalfWidth">Distance from the pixel's centre to the edge, px.</param>
/// <param name="Ridge">Half width of the stroke: the same on its true middle, which runs between pixels where the stroke is an even number of them wide.</param>
internal readonly record struct StrokePoint(int X, int Y, float HalfWidth, float Ridge);

/// <summary>A connected stroke of one width.</summary>
/// <param name="HalfWidth">Of its middle, px.</param>
internal readonly record struct StrokeLine(float HalfWidth, double LengthPx)
{
    /// <summary>Pixels its middle line runs through.</summary>
    public (int Left, int Top, int Right, int Bottom) Box { get; init; }
}

/// <summary>
/// Middle lines of strokes narrower than a limit: pixels that are at least as far from the edge as both neighbours across, and
/// whose distance hardly changes along. The second condition leaves out the bisectors of corners, which are ridges too.
/// </summary>
internal static class Strokes
{
    /// <summary>Middle lines have gaps of a pixel where they turn.</summary>
    private const int Gap = 2;

    /// <summary>Half widths of a line change by no more than this along it: a tip of less than two degrees.</summary>
    private const double Taper = 0.015;

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
                    if (
                        row[x] < 128
                        || distance[x, y] > limitPx
                        || Ridge(drawing, distance, x, y, taper) is not { } ridge
                    )
                        continue;
                    (found ??= []).Add(new(x, y, distance[x, y], ridge));
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

    /// <summary>
    /// The strokes that are at least so long and hardly taper: connected points whose half width stays nearly the same. The tip of a star or of a brush stroke runs from nothing to any width within a few millimetres; it prints a little
    /// shorter, and is no thin line.
    /// </summary>
    public static List<StrokeLine> Lines(List<StrokePoint> points, double lengthPx)
    {
        var open = points.Select((p, i) => (p, i)).ToDictionary(p => (p.p.X, p.p.Y), p => p.i);
        var lines = new List<StrokeLine>();
        var line = new List<int>();
        foreach (var point in points)
        {
            if (!open.Remove((point.X, point.Y), out var first))
                continue;
            line.Clear();
            line.Add(first);
            for (var i = 0; i < line.Count; i++)
            {
                var (x, y, _, _) = points[line[i]];
                for (var ny = y - Gap; ny <= y + Gap; ny++)
                for (var nx = x - Gap; nx <= x + Gap; nx++)
                    if (open.Remove((nx, ny), out var next))
                        line.Add(next);
            }
            float[] ridges = [.. line.Select(i => points[i].Ridge).Order()];
            if (line.Count < 0.7 * lengthPx || Tapers(points, line))
                continue;
            // A line is as wide as it is in its middle: its ends and crossings are narrower. One that is an even number of pixels wide
            // has two middle lines.
            var twice = line.Average(i => points[i].Ridge - points[i].HalfWidth) > 0.25;
            lines.Add(
                new(ridges[ridges.Length / 2], line.Count / (twice ? 2.0 : 1.0))
                {
                    Box = (
                        line.Min(i => points[i].X),
                        line.Min(i => points[i].Y),
                        line.Max(i => points[i].X),
                        line.Max(i => points[i].Y)
                    ),
                }
            );
        }
        return lines;
    }

    /// <summary>Whether the half width follows the place: by linear regression on either axis.</summary>
    private static bool Tapers(List<StrokePoint> points, List<int> line)
    {
        var (x, y, r) = (
            line.Average(i => (double)points[i].X),
            line.Average(i => (double)points[i].Y),
            line.Average(i => (double)points[i].Ridge)
        );
        double xx = 0,
            yy = 0,
            xr = 0,
            yr = 0;
        foreach (var i in line)
        {
            var (dx, dy, dr) = (points[i].X - x, points[i].Y - y, points[i].Ridge - r);
            (xx, yy, xr, yr) = (xx + dx * dx, yy + dy * dy, xr + dx * dr, yr + dy * dr);
        }
        // Across a straight line there is nothing to follow.
        return xx >= yy ? Math.Abs(xr) > Taper * xx : Math.Abs(yr) > Taper * yy;
    }

    /// <summary>Half width of the stroke whose middle this pixel is on; null when it is on none.</summary>
    private static float? Ridge(BytePlane drawing, EdgeDistance distance, int x, int y, double taper)
    {
        var here = distance[x, y];
        float? least = null;
        foreach (var (dx, dy) in Across)
        {
            var (one, other) = (Signed(drawing, distance, x + dx, y + dy), Signed(drawing, distance, x - dx, y - dy));
            if (here < one || here < other)
                continue;
            var change = Signed(drawing, distance, x - dy, y + dx) - Signed(drawing, distance, x + dy, y - dx);
            var step = Math.Sqrt(dx * dx + dy * dy);
            if (Math.Abs(change) >= 2 * taper * step)
                continue;
            // Both sides of the ridge fall by as much as one goes. Along a stroke nothing falls: the way across gives the least.
            var ridge = (float)Math.Max(here, (one + other) / 2 + step);
            least = least is { } known ? Math.Min(known, ridge) : ridge;
        }
        return least;
    }

    /// <summary>Negative outside the drawing.</summary>
    private static float Signed(BytePlane drawing, EdgeDistance distance, int x, int y)
    {
        if (x < 0 || y < 0 || x >= drawing.Width || y >= drawing.Height)
            return -0.5f;
        return drawing[x, y] >= 128 ? distance[x, y] : -distance[x, y];
    }
}
