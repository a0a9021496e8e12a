using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>The inked extent of a print as a rectangle on the garment laid flat, in its own upright.</summary>
internal readonly record struct PrintRectangle(
    double SeamX,
    double SeamY,
    double Cos,
    double Sin,
    double Left,
    double Top,
    double Right,
    double Bottom
)
{
    public static PrintRectangle Of(Placement placement, double heightMm, PlaceAnchor anchor, GarmentSize size)
    {
        var (x, y) = anchor.Seam.Of(size);
        var turn = anchor.DegreesFromUpright * Math.PI / 180;
        var centre = (anchor.Side == GarmentSide.Front ? 1 : -1) * placement.FromCentreMm;
        var top = anchor.Up ? -placement.FromSeamMm - heightMm : placement.FromSeamMm;
        var half = placement.WidthMm / 2;
        return new(x, y, Math.Cos(turn), Math.Sin(turn), centre - half, top, centre + half, top + heightMm);
    }

    /// <summary>A point of the drawing in the print's own upright, mm from where the tape starts.</summary>
    public (double X, double Y) Own((double X, double Y) point)
    {
        var (dx, dy) = (point.X - SeamX, point.Y - SeamY);
        return (Cos * dx + Sin * dy, -Sin * dx + Cos * dy);
    }

    public double Distance((double X, double Y) own)
    {
        var dx = Math.Max(0, Math.Max(Left - own.X, own.X - Right));
        var dy = Math.Max(0, Math.Max(Top - own.Y, own.Y - Bottom));
        return Math.Sqrt(dx * dx + dy * dy);
    }

    /// <summary>
    /// The part of a polygon inside the rectangle, edge by edge (Sutherland and Hodgman 1974). Parts of a hollow polygon come
    /// back joined along the rectangle's edge, which does not change their common extent.
    /// </summary>
    public List<(double X, double Y)> Clip(IReadOnlyList<(double X, double Y)> own)
    {
        var (left, top, right, bottom) = (Left, Top, Right, Bottom);
        var inside = Cut([.. own], p => p.X - left);
        inside = Cut(inside, p => right - p.X);
        inside = Cut(inside, p => p.Y - top);
        return Cut(inside, p => bottom - p.Y);
    }

    private static List<(double X, double Y)> Cut(
        List<(double X, double Y)> polygon,
        Func<(double X, double Y), double> inside
    )
    {
        var kept = new List<(double X, double Y)>(polygon.Count);
        for (var i = 0; i < polygon.Count; i++)
        {
            var (a, b) = (polygon[i], polygon[(i + 1) % polygon.Count]);
            var (da, db) = (inside(a), inside(b));
            if (da >= 0)
                kept.Add(a);
            if (da >= 0 != db >= 0)
            {
                var t = da / (da - db);
                kept.Add((a.X + t * (b.X - a.X), a.Y + t * (b.Y - a.Y)));
            }
        }
        return kept;
    }
}
