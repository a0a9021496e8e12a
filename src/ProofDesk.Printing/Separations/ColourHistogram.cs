using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>One filled cell of a <see cref="ColourHistogram"/>.</summary>
/// <param name="Flat">Pixels that look like their four neighbours.</param>
/// <param name="Along">Pixels that look like two opposite neighbours: flat areas, strokes, fades.</param>
internal readonly record struct ColourBin(int Index, LinearRgb Mean, Oklab Seen, long Flat, long Along);

/// <summary>
/// How often each colour stands in the art, in cells of 64 x 64 x 64 sRGB codes. Blended edge pixels look like none of
/// their neighbours, so they are not counted at all; a fade is counted, but thinly, in many cells.
/// </summary>
internal static class ColourHistogram
{
    public const int Cells = 64 * 64 * 64;

    /// <summary>Neighbours within so many codes look alike: wider than JPEG noise in flat areas, narrower than an edge.</summary>
    private const int Alike = 8;

    /// <summary>About so many pixels are looked at, in whole rows.</summary>
    private const int Enough = 4_000_000;

    private sealed class Counts
    {
        public readonly int[] Flat = new int[Cells];
        public readonly int[] Along = new int[Cells];
        public readonly long[] Sums = new long[Cells * 3];
    }

    /// <summary>Rows between rows looked at.</summary>
    public static int RowStep(RgbaRaster art) => (int)Math.Max(1, (long)art.Width * art.Height / Enough);

    /// <summary>
    /// A little light on top of every colour before asking how it looks, as from a lit room: without it the noise of a
    /// JPEG's black is as wide as the step from pink to red.
    /// </summary>
    public static Oklab Seen(LinearRgb c) =>
        Oklab.FromLinear(new(Flare + (1 - Flare) * c.R, Flare + (1 - Flare) * c.G, Flare + (1 - Flare) * c.B));

    private const double Flare = 0.01;

    public static int Cell(byte r, byte g, byte b) => r >> 2 << 12 | g >> 2 << 6 | b >> 2;

    public static List<ColourBin> Of(RgbaRaster art, SrgbCodes codes)
    {
        var step = RowStep(art);
        var rows = (art.Height + step - 1) / step;
        var total = new Counts();
        var gate = new Lock();
        RowLoop.RunBands(
            rows,
            Math.Max(16, (rows + 3) / 4),
            (first, count) =>
            {
                // Whole numbers add up to the same sums in any order.
                var counts = new Counts();
                for (var i = first; i < first + count; i++)
                    CountRow(art, codes, i * step, counts);
                lock (gate)
                    Add(counts, total);
            }
        );
        var bins = new List<ColourBin>();
        for (var i = 0; i < Cells; i++)
        {
            if (total.Along[i] == 0)
                continue;
            var n = total.Along[i] * 65535.0;
            var mean = new LinearRgb(total.Sums[3 * i] / n, total.Sums[3 * i + 1] / n, total.Sums[3 * i + 2] / n);
            bins.Add(new(i, mean, Seen(mean), total.Flat[i], total.Along[i]));
        }
        return bins;
    }

    private static void CountRow(RgbaRaster art, SrgbCodes codes, int y, Counts counts)
    {
        var row = art.Row(y);
        var above = art.Row(Math.Max(0, y - 1));
        var below = art.Row(Math.Min(art.Height - 1, y + 1));
        var last = row.Length - 4;
        unchecked
        {
            for (var x = 0; x <= last; x += 4)
            {
                if (row[x + 3] < 13107)
                    continue;
                var (left, right) = (Math.Max(0, x - 4), Math.Min(last, x + 4));
                var across = Same(codes, row, x, row, left) && Same(codes, row, x, row, right);
                var down = Same(codes, row, x, above, x) && Same(codes, row, x, below, x);
                if (!across && !down)
                    continue;
                var cell = Cell(codes[row[x]], codes[row[x + 1]], codes[row[x + 2]]);
                counts.Along[cell]++;
                if (across && down)
                    counts.Flat[cell]++;
                counts.Sums[3 * cell] += row[x];
                counts.Sums[3 * cell + 1] += row[x + 1];
                counts.Sums[3 * cell + 2] += row[x + 2];
            }
        }
    }

    private static bool Same(SrgbCodes codes, ReadOnlySpan<ushort> a, int i, ReadOnlySpan<ushort> b, int j) =>
        b[j + 3] >= 13107
        && Math.Abs(codes[a[i]] - codes[b[j]]) <= Alike
        && Math.Abs(codes[a[i + 1]] - codes[b[j + 1]]) <= Alike
        && Math.Abs(codes[a[i + 2]] - codes[b[j + 2]]) <= Alike;

    private static void Add(Counts part, Counts total)
    {
        for (var i = 0; i < Cells; i++)
        {
            if (part.Along[i] == 0)
                continue;
            total.Along[i] += part.Along[i];
            total.Flat[i] += part.Flat[i];
            for (var c = 3 * i; c < 3 * i + 3; c++)
                total.Sums[c] += part.Sums[c];
        }
    }
}
