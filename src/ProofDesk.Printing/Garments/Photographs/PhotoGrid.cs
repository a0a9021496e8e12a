using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>A photograph in linear light on a coarser grid of about a cell a millimetre, weighted by what belongs to the garment.</summary>
internal sealed class PhotoGrid
{
    /// <summary>Cells a mm that are enough for light and folds; finer is texture.</summary>
    private const double CellsPerMmAtMost = 1;

    private PhotoGrid(int factor, int width, int height, double cellsPerMm)
    {
        (Factor, Width, Height, CellsPerMm) = (factor, width, height, cellsPerMm);
        Red = new float[width * height];
        Green = new float[width * height];
        Blue = new float[width * height];
        Weight = new float[width * height];
    }

    /// <summary>Pixels of the photograph along a side of a cell.</summary>
    public int Factor { get; }
    public int Width { get; }
    public int Height { get; }
    public double CellsPerMm { get; }

    /// <summary>Sums of linear light times weight, so that what is not cloth counts nothing.</summary>
    public float[] Red { get; }
    public float[] Green { get; }
    public float[] Blue { get; }

    /// <summary>Share of the cell that is cloth, 0..1.</summary>
    public float[] Weight { get; }

    public static PhotoGrid Of(RgbPicture photo, BytePlane cloth, double pixelsPerMm)
    {
        var factor = Math.Max(1, (int)(pixelsPerMm / CellsPerMmAtMost));
        var (width, height) = ((photo.Width + factor - 1) / factor, (photo.Height + factor - 1) / factor);
        var grid = new PhotoGrid(factor, width, height, pixelsPerMm / factor);
        var linear = Linear();
        RowLoop.Run(
            height,
            photo.Width * factor,
            y =>
            {
                for (var x = 0; x < width; x++)
                {
                    float r = 0,
                        g = 0,
                        b = 0,
                        w = 0,
                        n = 0;
                    for (var yy = y * factor; yy < Math.Min(photo.Height, (y + 1) * factor); yy++)
                    {
                        for (var xx = x * factor; xx < Math.Min(photo.Width, (x + 1) * factor); xx++)
                        {
                            var share = cloth.Pixels[yy * photo.Width + xx] / 255f;
                            var p = (yy * photo.Width + xx) * 3;
                            r += share * linear[photo.Pixels[p]];
                            g += share * linear[photo.Pixels[p + 1]];
                            b += share * linear[photo.Pixels[p + 2]];
                            w += share;
                            n++;
                        }
                    }
                    var i = y * width + x;
                    (grid.Red[i], grid.Green[i], grid.Blue[i], grid.Weight[i]) = (r / n, g / n, b / n, w / n);
                }
            }
        );
        return grid;
    }

    public float[] Blurred(float[] sums, double sigmaMm) =>
        GaussianBlur.Blur(sums, Width, Height, sigmaMm * CellsPerMm);

    /// <summary>A blur so broad that it is done on cells some millimetres wide; between them straight lines.</summary>
    public float[] Broad(float[] sums, double sigmaMm)
    {
        var step = Math.Max(1, (int)(sigmaMm * CellsPerMm / 8));
        var (w, h) = ((Width + step - 1) / step, (Height + step - 1) / step);
        if (step == 1 || w < 2 || h < 2)
            return Blurred(sums, sigmaMm);
        var coarse = new float[w * h];
        for (var y = 0; y < h; y++)
        for (var x = 0; x < w; x++)
        {
            var (sum, n) = (0f, 0);
            for (var yy = y * step; yy < Math.Min(Height, (y + 1) * step); yy++)
            for (var xx = x * step; xx < Math.Min(Width, (x + 1) * step); xx++)
                (sum, n) = (sum + sums[yy * Width + xx], n + 1);
            coarse[y * w + x] = sum / n;
        }
        coarse = GaussianBlur.Blur(coarse, w, h, sigmaMm * CellsPerMm / step);
        var broad = new float[sums.Length];
        RowLoop.Run(
            Height,
            Width * 4,
            y =>
            {
                for (var x = 0; x < Width; x++)
                    broad[y * Width + x] = Between(coarse, w, h, (x + 0.5) / step - 0.5, (y + 0.5) / step - 0.5);
            }
        );
        return broad;
    }

    public static float[] Linear()
    {
        var linear = new float[256];
        for (var i = 0; i < 256; i++)
            linear[i] = (float)Srgb.Decode(i / 255.0);
        return linear;
    }

    /// <summary>Relative luminance, the Y row of the standard ([IEC-61966-2-1]).</summary>
    public static double Luminance(double r, double g, double b) => 0.2126 * r + 0.7152 * g + 0.0722 * b;

    /// <summary>A field of the grid at a pixel of the photograph, between the four nearest cells.</summary>
    public double At(float[] field, double px, double py) =>
        Between(field, Width, Height, px / Factor - 0.5, py / Factor - 0.5);

    private static float Between(float[] field, int width, int height, double x, double y)
    {
        (x, y) = (Math.Clamp(x, 0, width - 1), Math.Clamp(y, 0, height - 1));
        var (ix, iy) = (Math.Min((int)x, width - 2), Math.Min((int)y, height - 2));
        var (fx, fy) = ((float)(x - ix), (float)(y - iy));
        var i = iy * width + ix;
        var upper = field[i] + fx * (field[i + 1] - field[i]);
        var lower = field[i + width] + fx * (field[i + width + 1] - field[i + width]);
        return upper + fy * (lower - upper);
    }
}
