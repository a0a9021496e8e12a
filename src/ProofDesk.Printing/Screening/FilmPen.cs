using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>Draws marks and letters into a bit plane, in millimetres from its top left corner.</summary>
internal sealed class FilmPen(BitPlane plane, double xDpi, double yDpi)
{
    private readonly double _xPerMm = xDpi / 25.4;
    private readonly double _yPerMm = yDpi / 25.4;

    /// <summary>False clears instead: reverse lines out of a solid.</summary>
    public bool Ink { get; set; } = true;

    public void Box(double x, double y, double width, double height)
    {
        var (from, to) = Columns(x, x + width);
        for (var row = Rows(y); row < Rows(y + height); row++)
            Run(row, from, to);
    }

    /// <summary>A line with round ends.</summary>
    public void Line(double x1, double y1, double x2, double y2, double width)
    {
        // Never thinner than a device pixel, or it would come and go.
        var r = Math.Max(width, 1.01 * Math.Max(1 / _xPerMm, 1 / _yPerMm)) / 2;
        var length = Math.Sqrt((x2 - x1) * (x2 - x1) + (y2 - y1) * (y2 - y1));
        var (nx, ny) = length == 0 ? (0.0, 0.0) : (-(y2 - y1) / length * r, (x2 - x1) / length * r);
        (double X, double Y)[] corners =
        [
            (x1 + nx, y1 + ny),
            (x2 + nx, y2 + ny),
            (x2 - nx, y2 - ny),
            (x1 - nx, y1 - ny),
        ];
        for (var row = Rows(Math.Min(y1, y2) - r); row < Rows(Math.Max(y1, y2) + r); row++)
        {
            var y = (row + 0.5) / _yPerMm;
            var (left, right) = (double.MaxValue, double.MinValue);
            Disc(x1, y1, r, y, ref left, ref right);
            Disc(x2, y2, r, y, ref left, ref right);
            if (length > 0)
                Edges(corners, y, ref left, ref right);
            if (left < right)
            {
                var (from, to) = Columns(left, right);
                Run(row, from, to);
            }
        }
    }

    public void Circle(double x, double y, double radius, double width)
    {
        const int Sides = 72;
        for (var i = 0; i < Sides; i++)
        {
            var (s1, c1) = Math.SinCos(2 * Math.PI * i / Sides);
            var (s2, c2) = Math.SinCos(2 * Math.PI * (i + 1) / Sides);
            Line(x + radius * c1, y + radius * s1, x + radius * c2, y + radius * s2, width);
        }
    }

    /// <summary>Text whose capitals are <paramref name="height"/> mm high; (x, y) is the top left corner.</summary>
    public void Text(double x, double y, double height, string text, double weight = 0.14)
    {
        var unit = height / StrokeFont.CapHeight;
        foreach (var letter in StrokeFont.Plain(text))
        {
            foreach (var stroke in StrokeFont.Of(letter))
                for (var i = 0; i + 1 < stroke.Length; i++)
                    Line(
                        x + stroke[i].X * unit,
                        y + stroke[i].Y * unit,
                        x + stroke[i + 1].X * unit,
                        y + stroke[i + 1].Y * unit,
                        height * weight
                    );
            x += StrokeFont.Advance * unit;
        }
    }

    public static double TextWidth(string text, double height) =>
        Math.Max(0, StrokeFont.Plain(text).Length * StrokeFont.Advance - 1.4) * height / StrokeFont.CapHeight;

    private static void Disc(double cx, double cy, double r, double y, ref double left, ref double right)
    {
        var d = r * r - (y - cy) * (y - cy);
        if (d < 0)
            return;
        var half = Math.Sqrt(d);
        (left, right) = (Math.Min(left, cx - half), Math.Max(right, cx + half));
    }

    private static void Edges((double X, double Y)[] corners, double y, ref double left, ref double right)
    {
        for (var i = 0; i < corners.Length; i++)
        {
            var (a, b) = (corners[i], corners[(i + 1) % corners.Length]);
            if (a.Y == b.Y || y < Math.Min(a.Y, b.Y) || y > Math.Max(a.Y, b.Y))
                continue;
            var x = a.X + (b.X - a.X) * (y - a.Y) / (b.Y - a.Y);
            (left, right) = (Math.Min(left, x), Math.Max(right, x));
        }
    }

    private void Run(int row, int from, int to)
    {
        if (row < 0 || row >= plane.Height || from >= to)
            return;
        if (Ink)
            BitRows.FillRun(plane.Row(row), from, to);
        else
            for (var x = from; x < to; x++)
                plane[x, row] = false;
    }

    /// <summary>A pixel belongs to a shape when its centre does.</summary>
    private (int From, int To) Columns(double left, double right) =>
        (
            Math.Clamp((int)Math.Ceiling(left * _xPerMm - 0.5), 0, plane.Width),
            Math.Clamp((int)Math.Ceiling(right * _xPerMm - 0.5), 0, plane.Width)
        );

    private int Rows(double y) => Math.Clamp((int)Math.Ceiling(y * _yPerMm - 0.5), 0, plane.Height);
}
