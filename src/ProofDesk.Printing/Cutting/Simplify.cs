using System.Collections.Immutable;
using System.Runtime.InteropServices;

namespace ProofDesk.Printing.Cutting;

/// <summary>
/// Fewer points, none of the old ones farther from the new line than a tolerance (Douglas and Peucker 1973, Ramer 1972).
/// </summary>
internal static class Simplify
{
    public static ImmutableArray<(double X, double Y)> Closed(List<(double X, double Y)> line, double tolerance)
    {
        if (line.Count < 4)
            return [.. line];
        var points = CollectionsMarshal.AsSpan(line);
        // Two fixed ends: the first point and the one farthest from it.
        var far = 0;
        for (var i = 1; i < points.Length; i++)
            if (Square(points[i], points[0]) > Square(points[far], points[0]))
                far = i;
        (double, double)[] round = [.. line, line[0]];
        var keep = new bool[round.Length];
        (keep[0], keep[far]) = (true, true);
        Between(round, keep, 0, far, tolerance);
        Between(round, keep, far, round.Length - 1, tolerance);
        return [.. Enumerable.Range(0, line.Count).Where(i => keep[i]).Select(i => round[i])];
    }

    private static void Between((double X, double Y)[] points, bool[] keep, int first, int last, double tolerance)
    {
        var waiting = new Stack<(int First, int Last)>();
        waiting.Push((first, last));
        while (waiting.TryPop(out var part))
        {
            var (worst, most) = (-1, tolerance * tolerance);
            for (var i = part.First + 1; i < part.Last; i++)
            {
                var off = FromSegment(points[i], points[part.First], points[part.Last]);
                if (off > most)
                    (worst, most) = (i, off);
            }
            if (worst < 0)
                continue;
            keep[worst] = true;
            waiting.Push((part.First, worst));
            waiting.Push((worst, part.Last));
        }
    }

    private static double FromSegment((double X, double Y) p, (double X, double Y) a, (double X, double Y) b)
    {
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var length = dx * dx + dy * dy;
        var t = length == 0 ? 0 : Math.Clamp(((p.X - a.X) * dx + (p.Y - a.Y) * dy) / length, 0, 1);
        return Square(p, (a.X + t * dx, a.Y + t * dy));
    }

    private static double Square((double X, double Y) a, (double X, double Y) b) =>
        (a.X - b.X) * (a.X - b.X) + (a.Y - b.Y) * (a.Y - b.Y);
}
