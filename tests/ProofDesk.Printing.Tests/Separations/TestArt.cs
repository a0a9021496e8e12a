using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Separations;

/// <summary>
/// Art drawn by code as a drawing program would: antialiased, painted layer over layer, blended in sRGB codes unless told otherwise.
/// </summary>
internal sealed class TestArt(int width, int height)
{
    private readonly double[] _pixels = new double[width * height * 4];

    public bool BlendInLight { get; init; }

    public static TestArt On(int width, int height, string background)
    {
        var art = new TestArt(width, height);
        return art.Rectangle(background, 0, 0, width, height);
    }

    public TestArt Rectangle(string hex, double left, double top, double right, double bottom, double alpha = 1) =>
        Polygon(hex, alpha, [(left, top), (right, top), (right, bottom), (left, bottom)]);

    public TestArt Disc(string hex, double x, double y, double radius, double alpha = 1) =>
        Polygon(
            hex,
            alpha,
            [
                .. Enumerable
                    .Range(0, 180)
                    .Select(i => (x + radius * Math.Cos(i * Math.PI / 90), y + radius * Math.Sin(i * Math.PI / 90))),
            ]
        );

    public TestArt Star(string hex, double x, double y, double outer, double inner) =>
        Polygon(
            hex,
            1,
            [
                .. Enumerable
                    .Range(0, 10)
                    .Select(i =>
                    {
                        var r = i % 2 == 0 ? outer : inner;
                        return (x + r * Math.Sin(i * Math.PI / 5), y - r * Math.Cos(i * Math.PI / 5));
                    }),
            ]
        );

    public TestArt Polygon(string hex, double alpha, (double, double)[] contour)
    {
        var cover = new BytePlane(width, height);
        PolygonFill.Fill(cover, [contour]);
        return Paint((x, y) => (hex, alpha * cover[x, y] / 255.0));
    }

    /// <summary>Colour and alpha by pixel.</summary>
    public TestArt Paint(Func<int, int, (string Hex, double Alpha)> brush)
    {
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
        {
            var (hex, a) = brush(x, y);
            if (a <= 0)
                continue;
            var i = 4 * (y * width + x);
            var under = _pixels[i + 3] * (1 - a);
            var rgb = Convert.ToInt32(hex[1..], 16);
            for (var c = 0; c < 3; c++)
            {
                var code = (rgb >> 16 - 8 * c & 255) / 255.0;
                var value = BlendInLight ? Srgb.Decode(code) : code;
                _pixels[i + c] = (a * value + under * _pixels[i + c]) / (a + under);
            }
            _pixels[i + 3] = a + under;
        }
        return this;
    }

    /// <summary>Adds what JPEG adds: a few codes of noise everywhere.</summary>
    public TestArt Noise(double codes, ulong seed)
    {
        for (var i = 0; i < _pixels.Length; i++)
            if (i % 4 != 3)
                _pixels[i] = Math.Clamp(_pixels[i] + codes / 255 * SeededNoise.Normal(seed, i), 0, 1);
        return this;
    }

    public Artwork Artwork(bool isVector = false)
    {
        var raster = new RgbaRaster(width, height);
        for (var i = 0; i < _pixels.Length; i++)
        {
            // Eight bits, as files have them.
            var code = Math.Round(255 * _pixels[i]) / 255;
            var isLinear = i % 4 == 3 || BlendInLight;
            raster.Pixels[i] = (ushort)Math.Round(65535 * (isLinear ? _pixels[i] : Srgb.Decode(code)));
        }
        return new(raster, new("png", width, height, 8, "rgb", null, true, isVector), new string('0', 64), []);
    }

    public SizedArt Sized(double widthMm, BackgroundChoice background = BackgroundChoice.Print) =>
        ArtSizing.Size(Artwork(), widthMm, background);
}
