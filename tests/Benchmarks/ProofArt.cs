using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace Benchmarks;

/// <summary>
/// Art of 12 inch width at 300 px per inch for a six-screen print on black cloth, drawn here: stars within stars in
/// white and five colours, their edges blended in sRGB codes; with fades, every third row of stars fades from colour
/// to colour and into the cloth.
/// </summary>
internal static class ProofArt
{
    private const int Ppi = 300;
    private const int Width = 12 * Ppi;
    private const int Cell = Width / 9;

    private static readonly (byte R, byte G, byte B)[] Colours =
    [
        (255, 255, 255),
        (200, 24, 40),
        (20, 92, 190),
        (250, 190, 20),
        (20, 140, 80),
        (240, 110, 20),
    ];

    internal static Artwork Make(int heightInches, bool fades)
    {
        var art = new RgbaRaster(Width, heightInches * Ppi);
        var linear = new ushort[256];
        for (var i = 0; i < 256; i++)
            linear[i] = (ushort)Math.Round(65535 * Srgb.Decode(i / 255.0));
        BytePlane[] masks = [Stars(art.Height, 0.98), Stars(art.Height, 0.6), Stars(art.Height, 0.25)];
        RowLoop.Run(art.Height, Width, y => Row(art, masks, linear, y, fades));
        var source = new ArtSource("png", art.Width, art.Height, 8, "rgb", null, true, false);
        return new(art, source, new string('0', 64), []);
    }

    private static void Row(RgbaRaster art, BytePlane[] masks, ushort[] linear, int y, bool fades)
    {
        var row = art.Row(y);
        for (var x = 0; x < Width; x++)
        {
            var outer = masks[0][x, y];
            if (outer == 0)
                continue;
            var (cellX, cellY) = (x / Cell, y / Cell);
            var along = x % Cell / (double)Cell;
            var soft = fades && cellY % 3 == 1;
            var colour = Mix(Colour(cellX + cellY), Colour(cellX + cellY + 1), soft ? along : 0);
            colour = Mix(colour, Colour(cellX + cellY + 2), masks[1][x, y] / 255.0);
            colour = Mix(colour, Colour(cellX + cellY + 3), masks[2][x, y] / 255.0);
            var alpha = soft && cellX % 2 == 0 ? outer * (0.1 + 0.9 * along) : outer;
            var p = row.Slice(4 * x, 4);
            p[0] = linear[(int)Math.Round(colour.R)];
            p[1] = linear[(int)Math.Round(colour.G)];
            p[2] = linear[(int)Math.Round(colour.B)];
            p[3] = (ushort)(257 * (int)Math.Round(alpha));
        }
    }

    private static (double R, double G, double B) Colour(int i) => Colours[i % Colours.Length];

    private static (double R, double G, double B) Mix(
        (double R, double G, double B) a,
        (double R, double G, double B) b,
        double t
    ) => (a.R + t * (b.R - a.R), a.G + t * (b.G - a.G), a.B + t * (b.B - a.B));

    private static BytePlane Stars(int height, double size)
    {
        var contours = new List<(double X, double Y)[]>();
        for (var cy = Cell / 2; cy < height; cy += Cell)
        for (var cx = Cell / 2; cx < Width; cx += Cell)
        {
            var outline = new (double, double)[2 * (5 + (cx + cy) / Cell % 40)];
            for (var i = 0; i < outline.Length; i++)
            {
                var radius = Cell / 2.0 * size * (i % 2 == 0 ? 1 : 0.62);
                var (sin, cos) = Math.SinCos(2 * Math.PI * i / outline.Length + 0.1);
                outline[i] = (cx + radius * cos, cy + radius * sin);
            }
            contours.Add(outline);
        }
        var shape = new BytePlane(Width, height);
        PolygonFill.Fill(shape, contours);
        return shape;
    }
}
