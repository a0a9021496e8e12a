using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Metals;

namespace ProofDesk.Printing.Proofs;

/// <summary>A print at its place on the garment, reduced to about twice the resolution of the worn picture.</summary>
internal sealed class WornPrint
{
    private readonly float[] _pixels;
    private readonly float[]? _specular;
    private readonly int _width;
    private readonly int _height;
    private readonly double _pixelsPerMm;
    private readonly double _centreX;
    private readonly double _topY;
    private readonly double _cos;
    private readonly double _sin;
    private readonly double _halfWidthMm;
    private readonly double _heightMm;
    private readonly double _marginMm;

    /// <param name="anchor">Where the tape measure starts.</param>
    /// <param name="picturePixelsPerMm">Resolution of the worn picture.</param>
    public WornPrint(
        PrintedCloth cloth,
        Placement placement,
        PlaceAnchor anchor,
        GarmentSize size,
        double picturePixelsPerMm
    )
    {
        var print = cloth.Print;
        var factor = Math.Max(1, (int)(print.PixelsPerMm / (2 * picturePixelsPerMm)));
        (_width, _height) = (print.Width / factor, print.Height / factor);
        _pixelsPerMm = print.PixelsPerMm / factor;
        _pixels = Reduce(cloth.Mirror?.Matt ?? print, cloth.InkMask, factor, _width, _height);
        if (cloth.Mirror is { } mirror)
        {
            _specular = Reduce(mirror.Specular, cloth.InkMask, factor, _width, _height);
            Reflection = new(Metals.StudioLight.Default, mirror.Roughness);
        }
        _marginMm = cloth.MarginMm;
        _halfWidthMm = print.Width / print.PixelsPerMm / 2 - _marginMm;
        _heightMm = print.Height / print.PixelsPerMm - 2 * _marginMm;

        var (seamX, seamY) = anchor.Seam.Of(size);
        var wearersLeft = anchor.Side == GarmentSide.Front ? 1 : -1;
        _centreX = seamX;
        _topY = seamY;
        var turn = anchor.DegreesFromUpright * Math.PI / 180;
        (_cos, _sin) = (Math.Cos(turn), Math.Sin(turn));
        AllOver = placement.Place.IsAllOver();
        OffsetX = wearersLeft * placement.FromCentreMm;
        OffsetY = anchor.Up ? -placement.FromSeamMm - _heightMm : placement.FromSeamMm;
    }

    /// <summary>Covers the whole side: panels are flat, so the print is not measured along the cloth but lies where the outline is.</summary>
    public bool AllOver { get; }

    /// <summary>What its metal mirrors; null when nothing mirrors.</summary>
    public StudioReflection? Reflection { get; }

    private double OffsetX { get; }
    private double OffsetY { get; }

    /// <summary>Origin of the tape measure, mm in the drawing.</summary>
    public (double X, double Y) Seam => (_centreX, _topY);

    /// <summary>
    /// Colour and cover (0 = bare cloth) of the print at a place given in mm from the tape's origin, measured along the
    /// cloth.
    /// </summary>
    public (LinearRgb Colour, double Cover) At(double dxMm, double dyMm)
    {
        var (colour, ink) = Sample(_pixels, dxMm, dyMm);
        // The print's own picture already mixes ink and cloth, so a little ink is enough to take it whole.
        return (colour, Math.Min(1, 5 * ink));
    }

    /// <summary>What of the print mirrors at that place: black where nothing does.</summary>
    public LinearRgb Specular(double dxMm, double dyMm) =>
        _specular is null ? default : Sample(_specular, dxMm, dyMm).Colour;

    private (LinearRgb Colour, double Ink) Sample(float[] pixels, double dxMm, double dyMm)
    {
        // Into the print's own upright.
        var u = _cos * dxMm + _sin * dyMm - OffsetX + _halfWidthMm + _marginMm;
        var v = -_sin * dxMm + _cos * dyMm - OffsetY + _marginMm;
        var (x, y) = (u * _pixelsPerMm - 0.5, v * _pixelsPerMm - 0.5);
        if (x < 0 || y < 0 || x >= _width - 1 || y >= _height - 1)
            return (default, 0);
        var (ix, iy) = ((int)x, (int)y);
        var (fx, fy) = ((float)(x - ix), (float)(y - iy));
        var i = (iy * _width + ix) * 4;
        var below = i + _width * 4;
        Span<float> mixed = stackalloc float[4];
        for (var c = 0; c < 4; c++)
        {
            var upper = pixels[i + c] + fx * (pixels[i + 4 + c] - pixels[i + c]);
            var lower = pixels[below + c] + fx * (pixels[below + 4 + c] - pixels[below + c]);
            mixed[c] = upper + fy * (lower - upper);
        }
        return (new LinearRgb(mixed[0], mixed[1], mixed[2]), mixed[3]);
    }

    /// <summary>Means of blocks in linear light: R, G, B and ink cover.</summary>
    private static float[] Reduce(RgbPicture print, BytePlane inkMask, int factor, int width, int height)
    {
        var decode = new float[256];
        for (var i = 0; i < 256; i++)
            decode[i] = (float)Srgb.Decode(i / 255.0);
        var reduced = new float[width * height * 4];
        RowLoop.Run(
            height,
            width * factor * factor,
            y =>
            {
                for (var x = 0; x < width; x++)
                {
                    float r = 0,
                        g = 0,
                        b = 0,
                        ink = 0;
                    for (var yy = y * factor; yy < (y + 1) * factor; yy++)
                    {
                        for (var xx = x * factor; xx < (x + 1) * factor; xx++)
                        {
                            var p = (yy * print.Width + xx) * 3;
                            r += decode[print.Pixels[p]];
                            g += decode[print.Pixels[p + 1]];
                            b += decode[print.Pixels[p + 2]];
                            ink += inkMask.Pixels[yy * print.Width + xx];
                        }
                    }
                    var n = factor * factor;
                    var at = (y * width + x) * 4;
                    (reduced[at], reduced[at + 1], reduced[at + 2]) = (r / n, g / n, b / n);
                    reduced[at + 3] = ink / (n * 255f);
                }
            }
        );
        return reduced;
    }
}
