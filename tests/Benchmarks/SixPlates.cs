using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace Benchmarks;

/// <summary>
/// A 12 inch wide print with six plates: a base and two flat colours with outlines, a flat colour that fades, and two
/// plates that are tone all over. 300 px per inch, all drawn here.
/// </summary>
internal static class SixPlates
{
    internal const int Ppi = 300;
    private const int Width = 12 * Ppi;

    internal static Separation Make(int heightInches)
    {
        var height = heightInches * Ppi;
        var flat = Filled(height, (_, _) => 255);
        var figures = Figures(height, 0.9);
        var inner = Figures(height, 0.55);
        var core = Figures(height, 0.25);
        Plate[] plates =
        [
            Plate("base", PlatePurpose.Base, flat, figures),
            Plate("flat one", PlatePurpose.Spot, flat, inner),
            Plate("flat two", PlatePurpose.Spot, flat, core),
            Plate("fading", PlatePurpose.Spot, Filled(height, (x, y) => 40 + 180 * y / height), inner),
            Plate("tones", PlatePurpose.Spot, Filled(height, Clouds), null),
            Plate("highlights", PlatePurpose.HighlightWhite, Filled(height, (x, y) => Clouds(y, x) - 100), null),
        ];
        return new([.. plates], [], [], 12 * 25.4, heightInches * 25.4, Ppi / 25.4, []);
    }

    private static Plate Plate(string name, PlatePurpose purpose, BytePlane tone, BytePlane? shape) =>
        new(
            name,
            purpose,
            InkLibrary.Default[0],
            Meshes.FineHalftone,
            new(55, 22.5, DotShape.Elliptical),
            tone,
            shape,
            tone,
            1,
            purpose == PlatePurpose.Base
        );

    private static BytePlane Filled(int height, Func<int, int, int> tone)
    {
        var plane = new BytePlane(Width, height);
        RowLoop.Run(
            height,
            Width,
            y =>
            {
                var row = plane.Row(y);
                for (var x = 0; x < row.Length; x++)
                    row[x] = (byte)Math.Clamp(tone(x, y), 0, 255);
            }
        );
        return plane;
    }

    /// <summary>Soft shapes with some grain, like a photograph; blank towards the border.</summary>
    private static int Clouds(int x, int y)
    {
        var soft = Math.Sin(x / 310.0) * Math.Cos(y / 270.0) + Math.Sin((x + 2 * y) / 800.0);
        return (int)(110 + 90 * soft) + (int)(SeededNoise.Hash(5, x / 3, y / 3) >> 60);
    }

    /// <summary>A hundred stars and rings, about this share of a grid of cells.</summary>
    private static BytePlane Figures(int height, double size)
    {
        var contours = new List<(double X, double Y)[]>();
        const int cell = Width / 9;
        for (var cy = cell / 2; cy < height; cy += cell)
        for (var cx = cell / 2; cx < Width; cx += cell)
        {
            var points = 5 + (cx + cy) / cell % 40;
            var outline = new (double, double)[2 * points];
            for (var i = 0; i < outline.Length; i++)
            {
                var radius = cell / 2.0 * size * (i % 2 == 0 ? 1 : 0.62);
                var (sin, cos) = Math.SinCos(Math.PI * i / points + 0.1);
                outline[i] = (cx + radius * cos, cy + radius * sin);
            }
            contours.Add(outline);
        }
        var shape = new BytePlane(Width, height);
        PolygonFill.Fill(shape, contours);
        return shape;
    }
}
