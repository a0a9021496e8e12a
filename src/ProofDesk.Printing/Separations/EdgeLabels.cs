using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Which palette colour each pixel of the art is, <see cref="PaletteMap.Mixture"/> where it is none, and <see cref="Clear"/>
/// where the cloth shows. The antialiased edge between two colours can pass exactly through a third one: a line of single
/// pixels of that colour, between the two that explain it, is an edge and not a drawing.
/// </summary>
internal static class EdgeLabels
{
    public const byte Clear = 255;

    /// <summary>A blend this near to the pixel explains it , codes,.</summary>
    private const int Explained = 14;

    public static BytePlane Of(RgbaRaster art, SrgbCodes codes, PaletteMap map)
    {
        var labels = ByColour(art, codes, map);
        var settled = new BytePlane(art.Width, art.Height);
        RowLoop.Run(
            art.Height,
            art.Width * 2,
            y =>
            {
                var row = labels.Row(y);
                var to = settled.Row(y);
                row.CopyTo(to);
                for (var x = 0; x < row.Length; x++)
                    if (
                        row[x] < PaletteMap.Mixture
                        && !StandsFlat(labels, x, y)
                        && IsEdge(art, codes, map, labels, x, y)
                    )
                        to[x] = PaletteMap.Mixture;
            }
        );
        return settled;
    }

    private static BytePlane ByColour(RgbaRaster art, SrgbCodes codes, PaletteMap map)
    {
        var labels = new BytePlane(art.Width, art.Height);
        RowLoop.Run(
            art.Height,
            art.Width * 2,
            y =>
            {
                var source = art.Row(y);
                var row = labels.Row(y);
                unchecked
                {
                    for (var x = 0; x < row.Length; x++)
                    {
                        var p = source.Slice(4 * x, 4);
                        row[x] =
                            p[3] < ArtSizing.FaintestAlpha
                                ? Clear
                                : map[ColourHistogram.Cell(codes[p[0]], codes[p[1]], codes[p[2]])];
                    }
                }
            }
        );
        return labels;
    }

    /// <summary>The pixel belongs to a square of two by two of its colour.</summary>
    private static bool StandsFlat(BytePlane labels, int x, int y)
    {
        var label = labels[x, y];
        bool Same(int nx, int ny) =>
            nx >= 0 && ny >= 0 && nx < labels.Width && ny < labels.Height && labels[nx, ny] == label;
        var (left, right) = (Same(x - 1, y), Same(x + 1, y));
        return Same(x, y - 1) && (left && Same(x - 1, y - 1) || right && Same(x + 1, y - 1))
            || Same(x, y + 1) && (left && Same(x - 1, y + 1) || right && Same(x + 1, y + 1));
    }

    private static bool IsEdge(RgbaRaster art, SrgbCodes codes, PaletteMap map, BytePlane labels, int x, int y)
    {
        Span<int> around = stackalloc int[Palette.Most + 2];
        var (seen, count) = (1 << labels[x, y], 0);
        for (var ny = Math.Max(0, y - 2); ny <= Math.Min(labels.Height - 1, y + 2); ny++)
        for (var nx = Math.Max(0, x - 2); nx <= Math.Min(labels.Width - 1, x + 2); nx++)
        {
            var label = labels[nx, ny];
            if (label >= PaletteMap.Mixture || (seen >> label & 1) != 0 || !StandsFlat(labels, nx, ny))
                continue;
            seen |= 1 << label;
            around[count++] = label;
        }
        if (count < 2)
            return false;
        var p = art.Row(y).Slice(4 * x, 4);
        return map.BestPair(ColourHistogram.Cell(codes[p[0]], codes[p[1]], codes[p[2]]), around[..count]).Off
            < Explained;
    }
}
