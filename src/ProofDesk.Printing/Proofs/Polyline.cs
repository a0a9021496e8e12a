namespace ProofDesk.Printing.Proofs;

/// <summary>Distances to a line of points.</summary>
internal static class Polyline
{
    /// <summary>
    /// Signed distance to the nearest point of the line (positive on the right-hand side when walking along it with y
    /// down) and its position along the line, 0..1 by number of pieces.
    /// </summary>
    public static (double Distance, double Along) Nearest(ReadOnlySpan<(double X, double Y)> line, double x, double y)
    {
        var (best, along, sign) = (double.MaxValue, 0.0, 1.0);
        for (var i = 0; i + 1 < line.Length; i++)
        {
            var (ax, ay) = line[i];
            var (dx, dy) = (line[i + 1].X - ax, line[i + 1].Y - ay);
            var squared = dx * dx + dy * dy;
            var t = squared == 0 ? 0 : Math.Clamp(((x - ax) * dx + (y - ay) * dy) / squared, 0, 1);
            var (ex, ey) = (x - ax - t * dx, y - ay - t * dy);
            var distance = ex * ex + ey * ey;
            if (distance >= best)
                continue;
            (best, along) = (distance, (i + t) / (line.Length - 1));
            sign = dx * ey - dy * ex >= 0 ? 1 : -1;
        }
        return (sign * Math.Sqrt(best), along);
    }
}
