using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>Painted art drawn for tests: gradients and scenes in which every pixel has a colour of its own.</summary>
internal static class PaintedArt
{
    /// <summary>Art from a function of sRGB codes 0..1 and alpha.</summary>
    public static SizedArt Of(
        int width,
        int height,
        double widthMm,
        Func<double, double, (double R, double G, double B, double A)> brush
    )
    {
        var raster = new RgbaRaster(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
        {
            var (r, g, b, a) = brush((x + 0.5) / width, (y + 0.5) / height);
            var at = 4 * (y * width + x);
            raster.Pixels[at] = Linear(r);
            raster.Pixels[at + 1] = Linear(g);
            raster.Pixels[at + 2] = Linear(b);
            raster.Pixels[at + 3] = (ushort)Math.Round(65535 * a);
        }
        var artwork = new Artwork(
            raster,
            new("png", width, height, 8, "rgb", null, true, false),
            new string('0', 64),
            []
        );
        return new(raster, widthMm, widthMm * height / width, artwork, 0, 0, []);

        static ushort Linear(double code) => (ushort)Math.Round(65535 * Srgb.Decode(Math.Clamp(code, 0, 1)));
    }

    /// <summary>A dusk over water: sky from orange to deep blue, a sun, hills, reflections; soft everywhere.</summary>
    public static SizedArt Dusk(int width = 300, int height = 240, double widthMm = 60) =>
        Of(
            width,
            height,
            widthMm,
            (x, y) =>
            {
                var sky = Math.Clamp(y / 0.6, 0, 1);
                var (r, g, b) = (0.12 + 0.8 * sky, 0.16 + 0.45 * sky * sky, 0.45 - 0.2 * sky);
                var sun = Math.Exp(-(Math.Pow(x - 0.7, 2) + Math.Pow(y - 0.5, 2)) / 0.006);
                (r, g, b) = (r + sun * (1 - r), g + sun * (0.92 - g), b + sun * (0.6 - b));
                var hill = 0.55 + 0.06 * Math.Sin(9 * x) + 0.03 * Math.Sin(23 * x + 1);
                if (y > hill)
                    (r, g, b) = (0.1 + 0.15 * x, 0.28 + 0.2 * (y - hill), 0.16 + 0.1 * x);
                if (y > 0.78)
                    (r, g, b) = (
                        0.2 + 0.5 * Math.Abs(Math.Sin(40 * y)) * Math.Exp(-Math.Pow((x - 0.7) / 0.2, 2)),
                        0.3 + 0.2 * x,
                        0.42 + 0.2 * (1 - x)
                    );
                return (r, g, b, 1);
            }
        );

    /// <summary>A strip of one colour fading to another.</summary>
    public static SizedArt Ramp((double R, double G, double B) from, (double R, double G, double B) to) =>
        Of(
            256,
            16,
            50,
            (x, _) => (from.R + x * (to.R - from.R), from.G + x * (to.G - from.G), from.B + x * (to.B - from.B), 1)
        );
}
