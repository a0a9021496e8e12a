using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// A parallelogram of cells x cells dots whose sides (Ax, Ay) and (Bx, By) are whole film pixels (y down): a rational
/// tangent screen. Alone (cells = 1) it meets few angles; 3 or 4 cells meet any ruling and angle within
/// half a film pixel over their whole side.
/// </summary>
internal sealed record Supercell(int Cells, int Ax, int Ay, int Bx, int By)
{
    /// <summary>Pixels in it.</summary>
    internal int Area => checked(Ax * By - Ay * Bx);

    /// <summary>The supercell of this many cells nearest to a screen.</summary>
    internal static Supercell Nearest(Screen screen, double xDpi, double yDpi, int cells)
    {
        var (sin, cos) = Math.SinCos(screen.AngleDegrees * Math.PI / 180);
        var lines = cells / screen.LinesPerInch;
        return new(
            cells,
            Round(xDpi * lines * cos),
            Round(-yDpi * lines * sin),
            Round(xDpi * lines * sin),
            Round(yDpi * lines * cos)
        );

        static int Round(double v) => (int)Math.Round(v, MidpointRounding.AwayFromZero);
    }

    /// <summary>Distance of both sides from the wanted ones, relative to their length.</summary>
    internal double Error(Screen screen, double xDpi, double yDpi)
    {
        if (Area < 1)
            return double.PositiveInfinity;
        var (sin, cos) = Math.SinCos(screen.AngleDegrees * Math.PI / 180);
        var scale = screen.LinesPerInch / Cells;
        var (ax, ay) = (Ax / xDpi * scale - cos, Ay / yDpi * scale + sin);
        var (bx, by) = (Bx / xDpi * scale - sin, By / yDpi * scale - cos);
        return Math.Sqrt((ax * ax + ay * ay + bx * bx + by * by) / 2);
    }

    /// <summary>Ruling and angle of the first side.</summary>
    internal (double LinesPerInch, double AngleDegrees) Ruling(double xDpi, double yDpi)
    {
        var (x, y) = (Ax / xDpi, -Ay / yDpi);
        var degrees = Math.Atan2(y, x) * 180 / Math.PI;
        return (Cells / Math.Sqrt(x * x + y * y), degrees < 0 ? degrees + 360 : degrees);
    }

    /// <summary>The supercell's pixels, ranked by the dot's shape, as a brick that repeats.</summary>
    internal ThresholdTile Tile(DotShape dot)
    {
        var (height, p, q) = Bezout(Ay, By);
        var width = Area / height;
        var shift = (int)((((long)p * Ax + (long)q * Bx) % width + width) % width);
        var pixels = new (double Key, uint Tie, int At)[Area];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                // Where the pixel's centre lies, in cells along both sides.
                double cx = x + 0.5,
                    cy = y + 0.5;
                var along = Cells * (cx * By - cy * Bx) / Area;
                var over = Cells * (cy * Ax - cx * Ay) / Area;
                var (u, v) = (Math.Round(along), Math.Round(over));
                var key = dot.InkOrder(2 * (along - u), 2 * (over - v));
                pixels[y * width + x] = (Math.Round(key, 9), Tie(u, v, x, y), y * width + x);
            }
        }
        Array.Sort(pixels);
        var ranks = new int[Area];
        for (var rank = 0; rank < pixels.Length; rank++)
            ranks[pixels[rank].At] = rank;
        return new(width, height, shift, ranks);
    }

    /// <summary>Equal pixels of different cells take turns in an order that jumps about, so no cell runs ahead.</summary>
    private uint Tie(double u, double v, int x, int y)
    {
        var cell = SeededNoise.Hash(7, Mod(u), Mod(v)) >> 48;
        return (uint)(cell << 16 | SeededNoise.Hash(11, x, y) >> 48);

        long Mod(double value) => ((long)value % Cells + Cells) % Cells;
    }

    /// <summary>Greatest common divisor g of a and b with p a + q b = g &gt; 0 (Euclid's extended algorithm).</summary>
    private static (int G, int P, int Q) Bezout(int a, int b)
    {
        var (r0, r1, p0, p1, q0, q1) = (a, b, 1, 0, 0, 1);
        while (r1 != 0)
        {
            var n = r0 / r1;
            (r0, r1) = (r1, r0 - n * r1);
            (p0, p1) = (p1, p0 - n * p1);
            (q0, q1) = (q1, q0 - n * q1);
        }
        return r0 < 0 ? (-r0, -p0, -q0) : (r0, p0, q0);
    }
}
