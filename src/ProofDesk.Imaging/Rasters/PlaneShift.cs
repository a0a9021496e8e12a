namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Where a plate lands when it is not quite in register: a shift with a small turn and stretch. Pixel (x, y) of the
/// print shows pixel (x + Dx + Dxx x + Dxy y, y + Dy + Dyx x + Dyy y), rounded, of the film. Rows are fetched in runs over
/// which the rounded offset does not change, 64 pixels at a time.
/// </summary>
public readonly record struct PlaneShift(double Dx, double Dy, double Dxx, double Dxy, double Dyx, double Dyy)
{
    /// <summary>
    /// The print moved right and down by (dxPx, dyPx), turned clockwise (as seen, y down) by <paramref name="radians"/>
    /// and stretched around a centre.
    /// </summary>
    /// <param name="stretchX">1.0005 = 0.05 % wider.</param>
    /// <param name="yPixelsPerXPixel">y dpi / x dpi of the film.</param>
    public static PlaneShift Register(
        double dxPx,
        double dyPx,
        double radians,
        double stretchX,
        double stretchY,
        double centreXPx,
        double centreYPx,
        double yPixelsPerXPixel = 1
    )
    {
        // Inverse of p' = c + d + R S (p - c): p = c + S^-1 R^-1 (p' - c - d).
        var (sin, cos) = Math.SinCos(radians);
        var (xx, xy) = (cos / stretchX, sin / stretchX / yPixelsPerXPixel);
        var (yx, yy) = (-sin / stretchY * yPixelsPerXPixel, cos / stretchY);
        var (x0, y0) = (centreXPx + dxPx, centreYPx + dyPx);
        return new(centreXPx - xx * x0 - xy * y0, centreYPx - yx * x0 - yy * y0, xx - 1, xy, yx, yy - 1);
    }

    /// <summary>First and last film row that rows top .. top + count - 1 of a print of this width look at.</summary>
    public (int First, int Last) FilmRows(int top, int count, int width)
    {
        var (a, b) = (Row(0, top), Row(width - 1, top));
        var (c, d) = (Row(0, top + count - 1), Row(width - 1, top + count - 1));
        return (
            (int)Math.Floor(Math.Min(Math.Min(a, b), Math.Min(c, d))),
            (int)Math.Ceiling(Math.Max(Math.Max(a, b), Math.Max(c, d)))
        );
    }

    /// <summary>
    /// Fills <paramref name="target"/> with the print's rows from <paramref name="top"/> on, from a band of film rows that
    /// starts at film row <paramref name="filmTop"/>. Outside the band and the film is blank.
    /// </summary>
    public void Fetch(BitPlane film, int filmTop, BitPlane target, int top)
    {
        var shift = this;
        RowLoop.Run(
            target.Height,
            target.Width / 16,
            y => shift.FetchRow(film, filmTop, target.Row(y), target.Width, y + top)
        );
    }

    private void FetchRow(BitPlane film, int filmTop, Span<ulong> row, int width, int y)
    {
        row.Clear();
        var x = 0;
        while (x < width)
        {
            var (dx, dy) = Offset(x, y);
            var end = RunEnd(x, width, y, dx, dy);
            var filmY = y + dy - filmTop;
            if (filmY >= 0 && filmY < film.Height)
            {
                var from = Math.Max(x, -dx);
                var to = Math.Min(end, film.Width - dx);
                if (from < to)
                    BitRows.CopyBits(film.Row(filmY), from + dx, row, from, to - from);
            }
            x = end;
        }
    }

    /// <summary>First x after the run of one offset: offsets change one way only along a row, so halving finds it.</summary>
    private int RunEnd(int x, int width, int y, int dx, int dy)
    {
        if (Offset(width - 1, y) == (dx, dy))
            return width;
        var (same, other) = (x, width - 1);
        while (other - same > 1)
        {
            var middle = same + (other - same) / 2;
            if (Offset(middle, y) == (dx, dy))
                same = middle;
            else
                other = middle;
        }
        return other;
    }

    /// <summary>Rounded offset from a print pixel to its film pixel.</summary>
    internal (int Dx, int Dy) Offset(int x, int y) =>
        ((int)Math.Floor(Dx + Dxx * x + Dxy * y + 0.5), (int)Math.Floor(Dy + Dyx * x + Dyy * y + 0.5));

    private double Row(int x, int y) => y + Dy + Dyx * x + Dyy * y;
}
