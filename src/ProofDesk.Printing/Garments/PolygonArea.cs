namespace ProofDesk.Printing.Garments;

/// <summary>Area inside a polygon (the shoelace formula); its sign says which way round it runs.</summary>
public static class PolygonArea
{
    public static double Of(IReadOnlyList<(double X, double Y)> polygon)
    {
        var twice = 0.0;
        for (var i = 0; i < polygon.Count; i++)
        {
            var (a, b) = (polygon[i], polygon[(i + 1) % polygon.Count]);
            twice += a.X * b.Y - b.X * a.Y;
        }
        return twice / 2;
    }
}
