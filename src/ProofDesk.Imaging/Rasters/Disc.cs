namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// A digital disc: all pixels whose centre lies within a radius. There are only as many different discs as there are
/// sums of two squares, so a radius between two of them is a mixture of both (<see cref="InkGrowth"/>).
/// </summary>
public sealed class Disc
{
    private readonly int[] _halfWidths;

    private Disc(int squaredRadius)
    {
        SquaredRadius = squaredRadius;
        Reach = (int)Math.Floor(Math.Sqrt(squaredRadius));
        _halfWidths = new int[Reach + 1];
        for (var dy = 0; dy <= Reach; dy++)
        {
            var h = 0;
            while ((h + 1) * (h + 1) + dy * dy <= squaredRadius)
                h++;
            _halfWidths[dy] = h;
        }
        GrowthPx = MeanSupport();
    }

    /// <summary>Square of the radius, px^2.</summary>
    public int SquaredRadius { get; }

    /// <summary>Rows above and below the centre.</summary>
    public int Reach { get; }

    /// <summary>
    /// How far an edge of random direction moves when a shape is dilated by this disc: the mean of the support function
    /// over all directions, which is the perimeter of the convex hull / 2 pi (Cauchy's formula). A little less than the
    /// radius, because a digital disc has corners.
    /// </summary>
    public double GrowthPx { get; }

    /// <summary>The disc of all pixels within <paramref name="radiusPx"/>.</summary>
    public static Disc Within(double radiusPx)
    {
        if (!(radiusPx >= 0) || radiusPx > 64)
            throw new ArgumentException($"a disc has a radius of 0 to 64 px; {radiusPx} given");
        // The small amount keeps 3.0000 in when it was computed as 2.9999999.
        return new((int)Math.Floor(radiusPx * radiusPx + 1e-9));
    }

    /// <summary>The next larger disc that differs from this one.</summary>
    public Disc Next()
    {
        for (var n = SquaredRadius + 1; ; n++)
        for (var a = 0; a * a <= n; a++)
        {
            var b = (int)Math.Round(Math.Sqrt(n - a * a));
            if (a * a + b * b == n)
                return new(n);
        }
    }

    /// <summary>Pixels to the left and right of the centre in the row <paramref name="dy"/> from it.</summary>
    public int HalfWidth(int dy) => _halfWidths[Math.Abs(dy)];

    private double MeanSupport()
    {
        const int directions = 3600;
        double sum = 0;
        for (var i = 0; i < directions; i++)
        {
            var (sin, cos) = Math.SinCos((i + 0.5) * Math.PI / 2 / directions);
            double support = 0;
            for (var dy = 0; dy <= Reach; dy++)
                support = Math.Max(support, _halfWidths[dy] * cos + dy * sin);
            sum += support;
        }
        return sum / directions;
    }
}
