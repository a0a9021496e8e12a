using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Mixed;

/// <summary>A painted scene with block letters and plain fields drawn over it, antialiased as a drawing program does.</summary>
internal sealed class MixedPicture
{
    public const double WidthMm = 60;
    public const double HeightMm = 48;

    /// <summary>About 300 dpi.</summary>
    public const double PixelsPerMm = 12;

    private readonly RgbaRaster _pixels;

    private MixedPicture(RgbaRaster pixels) => _pixels = pixels;

    public static MixedPicture Dusk() =>
        new(PaintedArt.Dusk((int)(WidthMm * PixelsPerMm), (int)(HeightMm * PixelsPerMm), WidthMm).Pixels);

    public static MixedPicture Nothing() => new(new((int)(WidthMm * PixelsPerMm), (int)(HeightMm * PixelsPerMm)));

    /// <summary>Letters as outlines in mm.</summary>
    public static (double X, double Y)[][] Letters(string text, double leftMm, double topMm, double capitalMm) =>
        [
            .. BlockLetters
                .Set(text, capitalMm)
                .Contours.Select(c => c.Select(p => (p.X + leftMm, p.Y + topMm)).ToArray()),
        ];

    /// <summary>Coverage of outlines in mm at so many pixels per mm.</summary>
    public static BytePlane Coverage((double X, double Y)[][] outlines, int width, int height, double pixelsPerMm)
    {
        var plane = new BytePlane(width, height);
        PolygonFill.Fill(
            plane,
            [.. outlines.Select(o => o.Select(p => (p.X * pixelsPerMm, p.Y * pixelsPerMm)).ToArray())],
            FillRule.EvenOdd
        );
        return plane;
    }

    public MixedPicture Draw(string hex, (double X, double Y)[][] outlines)
    {
        var cover = Coverage(outlines, _pixels.Width, _pixels.Height, PixelsPerMm);
        var rgb = Convert.ToInt32(hex[1..], 16);
        for (var i = 0; i < cover.Pixels.Length; i++)
        {
            var a = cover.Pixels[i] / 255.0;
            if (a == 0)
                continue;
            var below = _pixels.Pixels[4 * i + 3] / 65535.0;
            var under = below * (1 - a);
            for (var c = 0; c < 3; c++)
            {
                var code = (rgb >> 16 - 8 * c & 255) / 255.0;
                var was = Srgb.Encode(_pixels.Pixels[4 * i + c] / 65535.0);
                Set(i, c, (a * code + under * was) / (a + under));
            }
            _pixels.Pixels[4 * i + 3] = (ushort)Math.Round(65535 * (a + under));
        }
        return this;
    }

    public MixedPicture Letter(string hex, string text, double leftMm, double topMm, double capitalMm) =>
        Draw(hex, Letters(text, leftMm, topMm, capitalMm));

    public MixedPicture Field(string hex, double left, double top, double right, double bottom) =>
        Draw(
            hex,
            [
                [(left, top), (right, top), (right, bottom), (left, bottom)],
            ]
        );

    /// <summary>What compression adds: some codes of noise everywhere.</summary>
    public MixedPicture Noise(double codes)
    {
        for (var i = 0; i < _pixels.Pixels.Length; i++)
            if (i % 4 != 3)
                Set(i / 4, i % 4, Srgb.Encode(_pixels.Pixels[i] / 65535.0) + codes / 255 * SeededNoise.Normal(7, i));
        return this;
    }

    public SizedArt Sized()
    {
        var artwork = new Artwork(
            _pixels,
            new("png", _pixels.Width, _pixels.Height, 8, "rgb", null, true, false),
            new string('0', 64),
            []
        );
        return new(_pixels, WidthMm, HeightMm, artwork, 0, 0, []);
    }

    /// <summary>Eight bits, as files have them.</summary>
    private void Set(int pixel, int channel, double code) =>
        _pixels.Pixels[4 * pixel + channel] = (ushort)
            Math.Round(65535 * Srgb.Decode(Math.Round(255 * Math.Clamp(code, 0, 1)) / 255));
}
