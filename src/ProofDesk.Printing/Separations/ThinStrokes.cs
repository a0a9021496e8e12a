using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>Strokes of a drawing that are narrower than a limit: how long they are together, how wide, and where.</summary>
/// <param name="ThinnestMm">Width of the thinnest (lower twentieth, so that one odd pixel does not speak for a line).</param>
/// <param name="XMm">A place where it is as thin as that, from the left edge of the drawing.</param>
/// <param name="YMm">The same from its top.</param>
internal sealed record ThinStrokes(double LengthMm, double AreaMm2, double ThinnestMm, double XMm, double YMm)
{
    /// <summary>So much of a line makes it worth saying; tips of corners are shorter.</summary>
    private const double LeastLengthMm = 2;

    public static ThinStrokes? Find(BytePlane drawing, double pixelsPerMm, double leastMm) =>
        Find(drawing, pixelsPerMm, leastMm, 0);

    /// <param name="border">Pixels around the drawing that are not part of it.</param>
    private static ThinStrokes? Find(BytePlane drawing, double pixelsPerMm, double leastMm, int border)
    {
        var limit = leastMm / 2 * pixelsPerMm;
        var distance = EdgeDistance.Of(drawing, limit + 2);
        // A twentieth of a millimetre is within the art's own resolution.
        var thin = Strokes
            .Long(Strokes.Find(drawing, distance, limit, 0.2), Math.Max(4, pixelsPerMm))
            .Select(at => (At: at, Middle: Across(drawing, distance, at)))
            .Where(s => s.Middle.WidthPx < (leastMm - 0.05) * pixelsPerMm)
            .OrderBy(s => s.Middle.WidthPx)
            .ToArray();
        var length = thin.Sum(s => s.Middle.Share) / pixelsPerMm;
        if (length < LeastLengthMm)
            return null;
        var (at, middle) = thin[thin.Length / 20];
        return new(
            length,
            thin.Sum(s => s.Middle.Share * s.Middle.WidthPx) / (pixelsPerMm * pixelsPerMm),
            middle.WidthPx / pixelsPerMm,
            (at.X - border + 0.5) / pixelsPerMm,
            (at.Y - border + 0.5) / pixelsPerMm
        );
    }

    /// <summary>Gaps in a drawing that are narrower than a limit.</summary>
    public static ThinStrokes? Gaps(BytePlane drawing, double pixelsPerMm, double leastMm)
    {
        // So much ground around it that its outer rim is no gap.
        var border = (int)Math.Ceiling(leastMm * pixelsPerMm) + 2;
        var ground = BytePlane.Filled(drawing.Width + 2 * border, drawing.Height + 2 * border, 255);
        for (var y = 0; y < drawing.Height; y++)
        {
            var from = drawing.Row(y);
            var to = ground.Row(y + border).Slice(border, drawing.Width);
            for (var x = 0; x < from.Length; x++)
                to[x] = (byte)(255 - from[x]);
        }
        return Find(ground, pixelsPerMm, leastMm, border);
    }

    /// <summary>
    /// Width of a stroke at a point of its middle, and how much of the stroke's length the point stands for: a stroke an even number of
    /// pixels wide has its middle between two rows of them.
    /// </summary>
    private static (double WidthPx, double Share) Across(BytePlane drawing, EdgeDistance distance, StrokePoint at)
    {
        double Inside(int x, int y) =>
            x < 0 || y < 0 || x >= drawing.Width || y >= drawing.Height ? -0.5
            : drawing[x, y] >= 128 ? distance[x, y]
            : -distance[x, y];
        var (left, right) = (Inside(at.X - 1, at.Y), Inside(at.X + 1, at.Y));
        var (up, down) = (Inside(at.X, at.Y - 1), Inside(at.X, at.Y + 1));
        var (a, b) = left + right < up + down ? (left, right) : (up, down);
        // To the near edge, to the far one from the neighbour beyond the middle, and the step between them.
        var (most, least) = (Math.Max(a, b), Math.Min(a, b));
        return (2 * at.HalfWidth + most - least, at.HalfWidth - most < 0.25 ? 0.5 : 1);
    }
}
