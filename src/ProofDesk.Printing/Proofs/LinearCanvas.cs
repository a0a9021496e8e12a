using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Proofs;

/// <summary>A picture being painted in linear light.</summary>
internal sealed class LinearCanvas
{
    private readonly float[] _rgb;
    private readonly bool[] _cloth;

    public LinearCanvas(int width, int height, double grey)
    {
        (Width, Height) = (width, height);
        _rgb = new float[width * height * 3];
        _cloth = new bool[width * height];
        Array.Fill(_rgb, (float)grey);
    }

    public int Width { get; }
    public int Height { get; }

    /// <summary>A soft shadow of all masks together on what is there already.</summary>
    public void DropShadow(BytePlane[] masks, double offsetX, double offsetY, double sigma, double depth)
    {
        var all = new float[Width * Height];
        RowLoop.Run(
            Height,
            Width,
            y =>
            {
                foreach (var mask in masks)
                    for (var i = y * Width; i < (y + 1) * Width; i++)
                        all[i] = Math.Max(all[i], mask.Pixels[i] / 255f);
            }
        );
        var soft = GaussianBlur.Blur(all, Width, Height, sigma);
        var (dx, dy) = ((int)offsetX, (int)offsetY);
        RowLoop.Run(
            Height,
            Width,
            y =>
            {
                for (var x = 0; x < Width; x++)
                {
                    var (sx, sy) = (Math.Clamp(x - dx, 0, Width - 1), Math.Clamp(y - dy, 0, Height - 1));
                    Scale((y * Width + x) * 3, (float)(1 - depth * soft[sy * Width + sx]));
                }
            }
        );
    }

    /// <summary>Darkens what lies just outside a piece, where it rests on the pieces below.</summary>
    public void Contact(BytePlane mask, double sigma, double depth, BytePlane[] onlyOn)
    {
        var soft = GaussianBlur.Blur(mask, sigma);
        RowLoop.Run(
            Height,
            Width,
            y =>
            {
                for (var x = 0; x < Width; x++)
                {
                    var i = y * Width + x;
                    var near = soft.Pixels[i];
                    if (near == 0 || mask.Pixels[i] == 255)
                        continue;
                    var below = 0;
                    foreach (var piece in onlyOn)
                        below = Math.Max(below, piece.Pixels[i]);
                    Scale(i * 3, (float)(1 - depth * 2 * Math.Min(0.5, near / 255.0) * below / 255));
                }
            }
        );
    }

    /// <summary>Paints a colour for each pixel of a mask, mixed in by the mask's cover.</summary>
    public void Paint(BytePlane mask, Func<int, int, LinearRgb> colourAt)
    {
        RowLoop.Run(
            Height,
            Width * 8,
            y =>
            {
                for (var x = 0; x < Width; x++)
                {
                    var cover = mask.Pixels[y * Width + x] / 255f;
                    if (cover == 0)
                        continue;
                    _cloth[y * Width + x] |= cover > 0.5f;
                    var colour = colourAt(x, y);
                    var i = (y * Width + x) * 3;
                    _rgb[i] += cover * ((float)colour.R - _rgb[i]);
                    _rgb[i + 1] += cover * ((float)colour.G - _rgb[i + 1]);
                    _rgb[i + 2] += cover * ((float)colour.B - _rgb[i + 2]);
                }
            }
        );
    }

    /// <summary>Changes the painted pixels near a line; the function gets signed distance in mm, position 0..1 and the colour there.</summary>
    public void AlongLine(
        (double X, double Y)[] line,
        double leftMm,
        double topMm,
        double pixelsPerMm,
        double reachMm,
        Func<double, double, LinearRgb, LinearRgb> change
    )
    {
        // Short runs of the line at a time keep the search small.
        const int run = 24;
        var done = new HashSet<int>();
        for (var start = 0; start < line.Length - 1; start += run)
        {
            var end = Math.Min(line.Length - 1, start + run);
            var x0 = Math.Max(0, (int)((Least(line, start, end, p => p.X) - reachMm - leftMm) * pixelsPerMm));
            var x1 = Math.Min(Width - 1, (int)((-Least(line, start, end, p => -p.X) + reachMm - leftMm) * pixelsPerMm));
            var y0 = Math.Max(0, (int)((Least(line, start, end, p => p.Y) - reachMm - topMm) * pixelsPerMm));
            var y1 = Math.Min(Height - 1, (int)((-Least(line, start, end, p => -p.Y) + reachMm - topMm) * pixelsPerMm));
            var (from, to) = (Math.Max(0, start - run), Math.Min(line.Length, end + run + 1));
            var near = line.AsSpan(from, to - from);
            for (var y = y0; y <= y1; y++)
            {
                for (var x = x0; x <= x1; x++)
                {
                    if (!_cloth[y * Width + x])
                        continue;
                    var (distance, along) = Polyline.Nearest(
                        near,
                        leftMm + (x + 0.5) / pixelsPerMm,
                        topMm + (y + 0.5) / pixelsPerMm
                    );
                    if (Math.Abs(distance) > reachMm || along is <= 0 or >= 1 || !done.Add(y * Width + x))
                        continue;
                    var i = (y * Width + x) * 3;
                    var whole = (from + along * (near.Length - 1)) / (line.Length - 1);
                    var colour = change(distance, whole, new LinearRgb(_rgb[i], _rgb[i + 1], _rgb[i + 2]));
                    (_rgb[i], _rgb[i + 1], _rgb[i + 2]) = ((float)colour.R, (float)colour.G, (float)colour.B);
                }
            }
        }
    }

    public RgbPicture Encode(double pixelsPerMm)
    {
        var picture = new RgbPicture(Width, Height, pixelsPerMm);
        // 4096 steps of the square root of light: finer than one code value everywhere.
        var encode = new byte[4097];
        for (var i = 0; i <= 4096; i++)
            encode[i] = (byte)Math.Round(255 * Srgb.Encode(i / 4096.0 * (i / 4096.0)));
        RowLoop.Run(
            Height,
            Width,
            y =>
            {
                var row = picture.Row(y);
                for (var i = 0; i < row.Length; i++)
                    row[i] = encode[(int)(4096 * Math.Sqrt(Math.Clamp(_rgb[y * Width * 3 + i], 0, 1)) + 0.5)];
            }
        );
        return picture;
    }

    private void Scale(int i, float factor)
    {
        _rgb[i] *= factor;
        _rgb[i + 1] *= factor;
        _rgb[i + 2] *= factor;
    }

    private static double Least((double X, double Y)[] line, int start, int end, Func<(double X, double Y), double> of)
    {
        var least = double.MaxValue;
        for (var i = start; i <= end; i++)
            least = Math.Min(least, of(line[i]));
        return least;
    }
}
