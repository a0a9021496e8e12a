using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>A colour of the art and the share of the inked area that is near it.</summary>
internal readonly record struct ToneShare(LinearRgb Colour, double Share);

/// <summary>Which colours painted art is made of, in cells of 16 sRGB codes a side. Unlike spot art every pixel counts.</summary>
internal static class ToneHistogram
{
    private const int Cells = 16 * 16 * 16;

    /// <summary>About so many pixels are looked at, in whole rows.</summary>
    private const int Enough = 1_000_000;

    /// <summary>Pixels fainter than this say little about colour.</summary>
    private const ushort Faint = 6554;

    /// <summary>Largest share first.</summary>
    public static ImmutableArray<ToneShare> Of(RgbaRaster art)
    {
        var codes = new SrgbCodes();
        var counts = new long[Cells];
        var sums = new long[3 * Cells];
        var step = (int)Math.Max(1, (long)art.Width * art.Height / Enough);
        var all = 0L;
        for (var y = step / 2; y < art.Height; y += step)
        {
            var row = art.Row(y);
            for (var x = 0; x < row.Length; x += 4)
            {
                if (row[x + 3] < Faint)
                    continue;
                var cell = codes[row[x]] >> 4 << 8 | codes[row[x + 1]] >> 4 << 4 | codes[row[x + 2]] >> 4;
                counts[cell]++;
                all++;
                for (var c = 0; c < 3; c++)
                    sums[3 * cell + c] += row[x + c];
            }
        }
        return
        [
            .. Enumerable
                .Range(0, Cells)
                .Where(i => counts[i] > 0)
                .OrderByDescending(i => counts[i])
                .Select(i => new ToneShare(
                    new(Mean(3 * i, counts[i]), Mean(3 * i + 1, counts[i]), Mean(3 * i + 2, counts[i])),
                    counts[i] / (double)all
                )),
        ];

        double Mean(int sum, long count) => sums[sum] / (65535.0 * count);
    }
}
