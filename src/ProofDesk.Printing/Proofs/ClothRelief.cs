using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// The resting shape of the garment as a height field, mm, on a coarse grid: each piece of cloth inflated like a
/// cushion (the membrane equation, laplacian h = -1 with h = 0 on the outline, then its square root so that the edge is
/// round), plus fold ridges along the garment's fold lines, plus slow seeded waves.
/// </summary>
internal sealed class ClothRelief
{
    /// <summary>Grid pitch, mm: folds are 12 mm and wider, so 3 mm holds them.</summary>
    public const double PitchMm = 3;

    private readonly float[] _height;
    private readonly float[] _alongX;
    private readonly float[] _alongY;
    private readonly double _left;
    private readonly double _top;

    private ClothRelief(int width, int height, float[] relief, double left, double top)
    {
        (Width, Height, _height, _left, _top) = (width, height, relief, left, top);
        (_alongX, _alongY) = (new float[relief.Length], new float[relief.Length]);
        MeasureAlongTheCloth();
    }

    public int Width { get; }
    public int Height { get; }

    public static ClothRelief Of(
        GarmentView view,
        GarmentSize size,
        double leftMm,
        double topMm,
        double widthMm,
        double heightMm,
        ulong seed
    )
    {
        var (w, h) = ((int)Math.Ceiling(widthMm / PitchMm) + 2, (int)Math.Ceiling(heightMm / PitchMm) + 2);
        var relief = new float[w * h];
        var pieces = view.Pieces.Where(p => p.Kind != PieceKind.Inside).ToArray();
        var puffs = new (BytePlane Mask, float[] Puff)[pieces.Length];
        Parallel.For(
            0,
            pieces.Length,
            p =>
            {
                var mask = new BytePlane(w, h);
                var outline = ToGrid(pieces[p].Outline.Flatten(size, PitchMm), leftMm, topMm);
                PolygonFill.Fill(mask, [outline], FillRule.NonZero);
                puffs[p] = (mask, Inflate(mask, pieces[p].PuffMm));
            }
        );
        for (var p = 0; p < puffs.Length; p++)
        {
            var (mask, puff) = puffs[p];
            var below = pieces[p].OnTop ? 1 : 0;
            for (var i = 0; i < relief.Length; i++)
                if (mask.Pixels[i] > 127)
                    relief[i] = below * relief[i] + puff[i];
        }
        foreach (var fold in view.Folds)
            AddFold(relief, w, h, fold, size, leftMm, topMm);
        AddWaves(relief, w, h, leftMm, topMm, seed);
        // Cloth has no corners: without this the steps of the coarse grid show along the armholes.
        return new ClothRelief(w, h, GaussianBlur.Blur(relief, w, h, 1.1), leftMm, topMm);
    }

    /// <summary>Slope of the cloth at a point of the drawing (mm), dH/dx and dH/dy.</summary>
    public (double X, double Y) Slope(double xMm, double yMm)
    {
        const double d = PitchMm * 0.75;
        return (
            (Sample(_height, xMm + d, yMm) - Sample(_height, xMm - d, yMm)) / (2 * d),
            (Sample(_height, xMm, yMm + d) - Sample(_height, xMm, yMm - d)) / (2 * d)
        );
    }

    /// <summary>How far a point lies above the mean of its surroundings, mm: negative in valleys.</summary>
    public double Prominence(double xMm, double yMm)
    {
        const double r = 12;
        var around =
            Sample(_height, xMm - r, yMm)
            + Sample(_height, xMm + r, yMm)
            + Sample(_height, xMm, yMm - r)
            + Sample(_height, xMm, yMm + r);
        return Sample(_height, xMm, yMm) - around / 4;
    }

    /// <summary>Position measured along the cloth instead of across the picture: what a printed ruler would read, mm.</summary>
    public (double X, double Y) AlongCloth(double xMm, double yMm) =>
        (Sample(_alongX, xMm, yMm), Sample(_alongY, xMm, yMm));

    private double Sample(float[] grid, double xMm, double yMm)
    {
        var x = Math.Clamp((xMm - _left) / PitchMm - 0.5, 0, Width - 1.001);
        var y = Math.Clamp((yMm - _top) / PitchMm - 0.5, 0, Height - 1.001);
        var (ix, iy) = ((int)x, (int)y);
        var (fx, fy) = (x - ix, y - iy);
        var i = iy * Width + ix;
        var upper = grid[i] + fx * (grid[i + 1] - grid[i]);
        var lower = grid[i + Width] + fx * (grid[i + Width + 1] - grid[i + Width]);
        return upper + fy * (lower - upper);
    }

    private static (double X, double Y)[] ToGrid((double X, double Y)[] points, double leftMm, double topMm) =>
        [.. points.Select(p => ((p.X - leftMm) / PitchMm, (p.Y - topMm) / PitchMm))];

    /// <summary>Red-black successive over-relaxation; the square root of the membrane is a round-edged cushion.</summary>
    private static float[] Inflate(BytePlane mask, double puffMm)
    {
        var (w, h) = (mask.Width, mask.Height);
        var membrane = new float[w * h];
        const float relax = 1.9f;
        var spans = new (int First, int Last)[h];
        for (var y = 0; y < h; y++)
        {
            var row = mask.Pixels.AsSpan(y * w, w);
            spans[y] = (
                Math.Max(1, row.IndexOfAnyInRange((byte)128, (byte)255)),
                row.LastIndexOfAnyInRange((byte)128, (byte)255)
            );
        }
        for (var sweep = 0; sweep < 160; sweep++)
        for (var colour = 0; colour < 2; colour++)
        for (var y = 1; y < h - 1; y++)
        {
            var (first, last) = (spans[y].First, Math.Min(w - 2, spans[y].Last));
            var here = membrane.AsSpan(y * w, w);
            var above = membrane.AsSpan((y - 1) * w, w);
            var below = membrane.AsSpan((y + 1) * w, w);
            var cloth = mask.Pixels.AsSpan(y * w, w);
            for (var x = first + ((first + 1 + y + colour) & 1); x <= last; x += 2)
            {
                if (cloth[x] <= 127)
                    continue;
                var mean = (here[x - 1] + here[x + 1] + above[x] + below[x] + 1) / 4;
                here[x] += relax * (mean - here[x]);
            }
        }
        var top = Math.Max(1e-6f, membrane.Max());
        for (var i = 0; i < membrane.Length; i++)
            membrane[i] = (float)(puffMm * Math.Sqrt(Math.Max(0, membrane[i]) / top));
        return membrane;
    }

    private static void AddFold(
        float[] relief,
        int w,
        int h,
        GarmentFold fold,
        GarmentSize size,
        double leftMm,
        double topMm
    )
    {
        var line = fold.Line.Flatten(size, 6);
        var reach = 3 * fold.WidthMm;
        var x0 = Math.Max(0, (int)((line.Min(p => p.X) - reach - leftMm) / PitchMm));
        var x1 = Math.Min(w - 1, (int)((line.Max(p => p.X) + reach - leftMm) / PitchMm));
        var y0 = Math.Max(0, (int)((line.Min(p => p.Y) - reach - topMm) / PitchMm));
        var y1 = Math.Min(h - 1, (int)((line.Max(p => p.Y) + reach - topMm) / PitchMm));
        for (var y = y0; y <= y1; y++)
        {
            for (var x = x0; x <= x1; x++)
            {
                var (signed, t) = Polyline.Nearest(line, leftMm + (x + 0.5) * PitchMm, topMm + (y + 0.5) * PitchMm);
                var s = signed / fold.WidthMm;
                // Steep on one side, long on the other: cloth hangs from a ridge, it does not stand as a wave.
                var across = Math.Exp(-0.5 * (s > 0 ? s * s * 2.6 : s * s * 0.7));
                relief[y * w + x] += (float)(
                    fold.HeightMm * across * Math.Sqrt(Math.Sin(Math.PI * Math.Clamp(t, 0, 1)))
                );
            }
        }
    }

    private static void AddWaves(float[] relief, int w, int h, double leftMm, double topMm, ulong seed)
    {
        for (var y = 0; y < h; y++)
        {
            for (var x = 0; x < w; x++)
            {
                var (xMm, yMm) = (leftMm + x * PitchMm, topMm + y * PitchMm);
                var slant = xMm + 0.35 * yMm;
                relief[y * w + x] += (float)(
                    3.4 * SmoothNoise.At(seed, slant / 62, yMm / 118)
                    + 1.1 * SmoothNoise.At(seed + 1, (xMm - 0.5 * yMm) / 27, yMm / 41)
                );
            }
        }
    }

    private void MeasureAlongTheCloth()
    {
        // From the centre line outwards and from the collar seam down; slopes are limited because the cushion is a
        // picture of volume, not a measurement of it.
        var (cx, cy) = ((int)(-_left / PitchMm), Math.Max(0, (int)(-_top / PitchMm)));
        for (var y = 0; y < Height; y++)
        {
            var row = y * Width;
            _alongX[row + cx] = 0;
            for (var x = cx + 1; x < Width; x++)
                _alongX[row + x] = (float)(_alongX[row + x - 1] + Stretched(_height[row + x] - _height[row + x - 1]));
            for (var x = cx - 1; x >= 0; x--)
                _alongX[row + x] = (float)(_alongX[row + x + 1] - Stretched(_height[row + x] - _height[row + x + 1]));
        }
        for (var x = 0; x < Width; x++)
        {
            for (var y = cy + 1; y < Height; y++)
                _alongY[y * Width + x] = (float)(
                    _alongY[(y - 1) * Width + x] + Stretched(_height[y * Width + x] - _height[(y - 1) * Width + x])
                );
            for (var y = cy - 1; y >= 0; y--)
                _alongY[y * Width + x] = (float)(
                    _alongY[(y + 1) * Width + x] - Stretched(_height[y * Width + x] - _height[(y + 1) * Width + x])
                );
        }
    }

    private static double Stretched(double rise)
    {
        var slope = Math.Clamp(rise / PitchMm, -0.35, 0.35);
        return PitchMm * Math.Sqrt(1 + slope * slope);
    }
}
