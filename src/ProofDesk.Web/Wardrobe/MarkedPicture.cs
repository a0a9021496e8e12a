using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Web.Wardrobe;

/// <summary>
/// The photograph with what was drawn on it, small. Each mark differs in its pattern as well as in its colour: the tape has one tick
/// an end, the second tape two, the centre line is dashed, the area dotted. What is not taken for cloth is dimmed.
/// </summary>
internal static class MarkedPicture
{
    private static readonly byte[] Yellow = [255, 214, 0];
    private static readonly byte[] Cyan = [0, 214, 255];
    private static readonly byte[] Pink = [255, 92, 200];
    private static readonly byte[] White = [255, 255, 255];

    public static RgbPicture Draw(RgbPicture photo, PhotographForm form, BytePlane? cloth, int width)
    {
        width = Math.Min(width, photo.Width);
        var height = Math.Max(1, photo.Height * width / photo.Width);
        var picture = Small(photo, cloth, width, height);
        var pen = new Pen(picture, width / 640.0);
        (double X, double Y)? At(double? x, double? y) =>
            x is { } px && y is { } py ? (px / 100 * width, py / 100 * height) : null;

        (double X, double Y)[] corners = [.. form.Corners(out _).Select(p => At(p.X, p.Y)!.Value)];
        if (corners.Length == 2)
            corners = [corners[0], (corners[1].X, corners[0].Y), corners[1], (corners[0].X, corners[1].Y)];
        for (var i = 0; i < corners.Length; i++)
        {
            if (corners.Length > 2 || i > 0)
                pen.Line(corners[i], corners[(i + 1) % corners.Length], White, on: 3, off: 5);
            pen.Dot(corners[i], 4, White);
        }
        pen.Tape(At(form.Cx, form.Cy), At(form.Dx, form.Dy), Cyan, ticks: 2);
        pen.Tape(At(form.Ax, form.Ay), At(form.Bx, form.By), Yellow, ticks: 1);
        if (At(form.Sx, form.Sy) is { } seam)
        {
            pen.Line((seam.X - 12, seam.Y), (seam.X + 12, seam.Y), Pink);
            pen.Dot(seam, 4, Pink);
            if (At(form.Ex, form.Ey) is { } down)
                pen.Line(seam, down, Pink, on: 10, off: 6);
        }
        return picture;
    }

    /// <summary>Means of blocks; what is not cloth at a third of its light, towards grey.</summary>
    private static RgbPicture Small(RgbPicture photo, BytePlane? cloth, int width, int height)
    {
        var small = new RgbPicture(width, height, 1);
        RowLoop.Run(
            height,
            photo.Width * 4,
            y =>
            {
                var row = small.Row(y);
                var (top, bottom) = (
                    y * photo.Height / height,
                    Math.Max(y * photo.Height / height + 1, (y + 1) * photo.Height / height)
                );
                for (var x = 0; x < width; x++)
                {
                    var (left, right) = (
                        x * photo.Width / width,
                        Math.Max(x * photo.Width / width + 1, (x + 1) * photo.Width / width)
                    );
                    int r = 0,
                        g = 0,
                        b = 0,
                        inside = 0,
                        n = 0;
                    for (var yy = top; yy < bottom; yy++)
                    for (var xx = left; xx < right; xx++)
                    {
                        var p = (yy * photo.Width + xx) * 3;
                        r += photo.Pixels[p];
                        g += photo.Pixels[p + 1];
                        b += photo.Pixels[p + 2];
                        inside += cloth is null ? 255 : cloth.Pixels[yy * photo.Width + xx];
                        n++;
                    }
                    var share = inside / (255.0 * n);
                    row[3 * x] = Shown(r / n, share);
                    row[3 * x + 1] = Shown(g / n, share);
                    row[3 * x + 2] = Shown(b / n, share);
                }
            }
        );
        return small;

        static byte Shown(int code, double share) => (byte)(code * share + (100 + code * 0.25) * (1 - share));
    }

    /// <summary>Lines with a dark rim, so that they show on any cloth.</summary>
    private sealed class Pen(RgbPicture picture, double scale)
    {
        public void Tape((double X, double Y)? from, (double X, double Y)? to, byte[] colour, int ticks)
        {
            if (from is { } one)
                Dot(one, 4, colour);
            if (to is { } other)
                Dot(other, 4, colour);
            if (from is not { } a || to is not { } b)
                return;
            Line(a, b, colour);
            var length = Math.Max(1, Math.Sqrt((b.X - a.X) * (b.X - a.X) + (b.Y - a.Y) * (b.Y - a.Y)));
            var (ux, uy) = ((b.X - a.X) / length, (b.Y - a.Y) / length);
            foreach (var (end, inwards) in new[] { (a, 1.0), (b, -1.0) })
                for (var t = 0; t < ticks; t++)
                {
                    var (x, y) = (end.X + inwards * 7 * t * scale * ux, end.Y + inwards * 7 * t * scale * uy);
                    var reach = 10 * scale;
                    Line((x - uy * reach, y + ux * reach), (x + uy * reach, y - ux * reach), colour);
                }
        }

        public void Dot((double X, double Y) at, double radius, byte[] colour) =>
            Paint(at, at, colour, radius * scale, double.MaxValue, 0);

        public void Line(
            (double X, double Y) from,
            (double X, double Y) to,
            byte[] colour,
            double on = double.MaxValue,
            double off = 0
        ) => Paint(from, to, colour, 1.2 * scale, on * scale, off * scale);

        private void Paint(
            (double X, double Y) a,
            (double X, double Y) b,
            byte[] colour,
            double half,
            double on,
            double off
        )
        {
            var rim = half + 1.2 * Math.Max(0.6, scale);
            var (dx, dy) = (b.X - a.X, b.Y - a.Y);
            var square = dx * dx + dy * dy;
            var length = Math.Sqrt(square);
            var (x0, x1) = (Column(Math.Min(a.X, b.X) - rim - 1), Column(Math.Max(a.X, b.X) + rim + 1));
            var (y0, y1) = (Line(Math.Min(a.Y, b.Y) - rim - 1), Line(Math.Max(a.Y, b.Y) + rim + 1));
            for (var y = y0; y <= y1; y++)
            {
                var row = picture.Row(y);
                for (var x = x0; x <= x1; x++)
                {
                    var t = square == 0 ? 0 : Math.Clamp(((x + 0.5 - a.X) * dx + (y + 0.5 - a.Y) * dy) / square, 0, 1);
                    if (off > 0 && t * length % (on + off) > on)
                        continue;
                    var (ox, oy) = (x + 0.5 - a.X - t * dx, y + 0.5 - a.Y - t * dy);
                    var distance = Math.Sqrt(ox * ox + oy * oy);
                    Mix(row.Slice(3 * x, 3), [24, 24, 24], Math.Clamp(rim - distance + 0.5, 0, 1) * 0.8);
                    Mix(row.Slice(3 * x, 3), colour, Math.Clamp(half - distance + 0.5, 0, 1));
                }
            }
        }

        private int Column(double x) => Math.Clamp((int)x, 0, picture.Width - 1);

        private int Line(double y) => Math.Clamp((int)y, 0, picture.Height - 1);

        private static void Mix(Span<byte> pixel, byte[] colour, double share)
        {
            for (var c = 0; c < 3; c++)
                pixel[c] = (byte)Math.Round(pixel[c] + share * (colour[c] - pixel[c]));
        }
    }
}
