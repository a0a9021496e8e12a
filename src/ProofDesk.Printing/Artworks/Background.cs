using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>The plain colour around opaque art, as sRGB codes.</summary>
/// <param name="BorderShare">Share of the border that has it, 0..1.</param>
internal readonly record struct Background(double R, double G, double B, double BorderShare)
{
    /// <summary>Codes a background pixel may differ by; JPEG noise around lettering reaches about this much.</summary>
    internal const int Tolerance = 20;

    /// <summary>Standard deviation of that colour along the border, codes.</summary>
    public double Wander { get; init; }

    public string Hex => FormattableString.Invariant($"#{(int)R:x2}{(int)G:x2}{(int)B:x2}");

    /// <summary>
    /// The background of art that is opaque everywhere; null when the art has transparency. A border with no one colour
    /// over more than half of its length still returns its most common one: see <see cref="BorderShare"/>.
    /// </summary>
    public static Background? Find(RgbaRaster art, SrgbCodes codes)
    {
        for (var y = 0; y < art.Height; y++)
        {
            var row = art.Row(y);
            for (var x = 3; x < row.Length; x += 4)
                if (row[x] < 64000)
                    return null;
        }
        var border = Border(art.Width, art.Height).Select(p => Codes(art, codes, p.X, p.Y)).ToArray();
        var common = border.GroupBy(c => (c.R >> 4, c.G >> 4, c.B >> 4)).MaxBy(g => g.Count())!.ToArray();
        var (r, g, b) = (common.Average(c => c.R), common.Average(c => c.G), common.Average(c => c.B));
        var near = border
            .Where(c => Math.Max(Math.Abs(c.R - r), Math.Max(Math.Abs(c.G - g), Math.Abs(c.B - b))) <= Tolerance)
            .ToArray();
        var wander = near.Length == 0 ? 0 : Math.Sqrt(near.Average(c => (c.G - g) * (c.G - g)));
        return new(Math.Round(r), Math.Round(g), Math.Round(b), near.Length / (double)border.Length)
        {
            Wander = wander,
        };
    }

    internal static IEnumerable<(int X, int Y)> Border(int width, int height)
    {
        for (var x = 0; x < width; x++)
        {
            yield return (x, 0);
            yield return (x, height - 1);
        }
        for (var y = 1; y < height - 1; y++)
        {
            yield return (0, y);
            yield return (width - 1, y);
        }
    }

    private static (int R, int G, int B) Codes(RgbaRaster art, SrgbCodes codes, int x, int y)
    {
        var p = art.Row(y).Slice(4 * x, 3);
        return (codes[p[0]], codes[p[1]], codes[p[2]]);
    }
}
