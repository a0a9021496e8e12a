namespace ProofDesk.Printing.Screening;

/// <summary>
/// Spot functions on a cell, x and y from -1 to 1 with the dot's centre at 0: pixels with small values get ink first.
/// After the predefined spot functions of ISO 32000-1, table 128 (there larger values come first).
/// </summary>
internal static class DotShapes
{
    internal static double InkOrder(this DotShape dot, double x, double y)
    {
        var (ax, ay) = (Math.Abs(x), Math.Abs(y));
        return dot switch
        {
            // SimpleDot: a circle that grows until it overlaps its neighbours.
            DotShape.Round => x * x + y * y,
            // Round: circle, checkerboard at one half, circular hole.
            DotShape.Euclidean => ax + ay <= 1 ? x * x + y * y - 1 : 1 - ((1 - ax) * (1 - ax) + (1 - ay) * (1 - ay)),
            DotShape.Elliptical => Ellipse(ax, ay),
            DotShape.Line => ay,
            DotShape.Square => Math.Max(ax, ay),
            _ => throw new ArgumentOutOfRangeException(nameof(dot), dot, "unknown dot shape"),
        };
    }

    /// <summary>
    /// Ellipse: joins along x at 37.5 % and along y at 62.5 % (areas of the rhombs 3|x| + 4|y| = 3 and 4), so the jump of
    /// tone at one half falls into two smaller ones.
    /// </summary>
    private static double Ellipse(double ax, double ay)
    {
        var w = 3 * ax + 4 * ay - 3;
        if (w < 0)
            return (ax * ax + Square(ay / 0.75)) / 4 - 1;
        if (w > 1)
            return 1 - (Square(1 - ax) + Square((1 - ay) / 0.75)) / 4;
        return w - 0.5;

        static double Square(double v) => v * v;
    }
}
