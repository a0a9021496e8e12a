using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// The base drawn in from the edge of what lies on it, so that it does not peek out when the register is off. The choke
/// yields: where a stroke is too narrow for it, a strip of .25 mm stays (what the mesh holds), and a stroke
/// narrower than that keeps its width (common practice).
/// </summary>
internal static class Choke
{
    public const double LeastStripMm = 0.25;

    /// <summary>Tips sharper than about 50 degrees are strokes that taper; they keep a strip as well.</summary>
    private const double Taper = 0.42;

    public static BytePlane Yielding(BytePlane drawing, double chokeMm, double pixelsPerMm)
    {
        var choke = chokeMm * pixelsPerMm;
        var strip = LeastStripMm / 2 * pixelsPerMm;
        var distance = EdgeDistance.Of(drawing, choke + strip + 1.5);
        var choked = distance.Redrawn(drawing, (coverage, x, y) => distance.Shrunk(coverage, x, y, choke));
        foreach (var point in Strokes.Find(drawing, distance, choke + strip, Taper))
            Keep(drawing, choked, point, Math.Min(strip, point.HalfWidth));
        return choked;
    }

    private static void Keep(BytePlane drawing, BytePlane choked, StrokePoint point, double radius)
    {
        var reach = (int)Math.Ceiling(radius + 0.5);
        for (var y = Math.Max(0, point.Y - reach); y <= Math.Min(choked.Height - 1, point.Y + reach); y++)
        for (var x = Math.Max(0, point.X - reach); x <= Math.Min(choked.Width - 1, point.X + reach); x++)
        {
            var distance = Math.Sqrt((x - point.X) * (x - point.X) + (y - point.Y) * (y - point.Y));
            var kept = (byte)Math.Round(255 * Math.Clamp(radius + 0.5 - distance, 0, 1));
            choked[x, y] = Math.Max(choked[x, y], Math.Min(kept, drawing[x, y]));
        }
    }
}
