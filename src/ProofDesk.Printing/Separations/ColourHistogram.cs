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

    /// <summary>Alpha below a fifth says little about colour.</summary>
    private const ushort Faint = 13107;

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
                var rows = new CodedRows(art.Width);
                for (var i = first; i < first + count; i++)
                    CountRow(art, codes, i * step, rows, counts);
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

    private static void CountRow(RgbaRaster art, SrgbCodes codes, int y, CodedRows rows, Counts counts)
    {
        rows.Read(art, codes, y);
        AlikeNeighbours.Mark(rows.Above, rows.Own, rows.Below, Alike, rows.Marks);
        var row = art.Row(y);
        var marks = rows.Marks;
        unchecked
        {
            for (var x = marks.IndexOfAnyExcept((byte)0); x >= 0 && x < marks.Length; x++)
            {
                if (marks[x] == 0 || row[4 * x + 3] < Faint)
                    continue;
                var own = rows.Own[x + 1];
                var cell = Cell((byte)own, (byte)(own >> 8), (byte)(own >> 16));
                counts.Along[cell]++;
                if (marks[x] == (AlikeNeighbours.Across | AlikeNeighbours.Down))
                    counts.Flat[cell]++;
                counts.Sums[3 * cell] += row[4 * x];
                counts.Sums[3 * cell + 1] += row[4 * x + 1];
                counts.Sums[3 * cell + 2] += row[4 * x + 2];
            }
        }
    }

    /// <summary>Three rows of art as codes, four bytes a pixel; the last byte sets faint pixels apart from all others.</summary>
    private sealed class CodedRows(int width)
    {
        private readonly uint[] _above = new uint[width];
        private readonly uint[] _own = new uint[width + 2];
        private readonly uint[] _below = new uint[width];
        private readonly byte[] _marks = new byte[width];

        public ReadOnlySpan<uint> Above => _above;

        /// <summary>With one pixel more at each side, which is like the one beside it.</summary>
        public ReadOnlySpan<uint> Own => _own;

        public ReadOnlySpan<uint> Below => _below;
        public Span<byte> Marks => _marks;

        public void Read(RgbaRaster art, SrgbCodes codes, int y)
        {
            Read(art.Row(Math.Max(0, y - 1)), codes, _above);
            Read(art.Row(y), codes, _own.AsSpan(1, width));
            Read(art.Row(Math.Min(art.Height - 1, y + 1)), codes, _below);
            (_own[0], _own[^1]) = (_own[1], _own[^2]);
        }

        private static void Read(ReadOnlySpan<ushort> row, SrgbCodes codes, Span<uint> to)
        {
            unchecked
            {
                for (int x = 0, i = 0; x < to.Length; x++, i += 4)
                    to[x] =
                        (uint)(codes[row[i]] | codes[row[i + 1]] << 8 | codes[row[i + 2]] << 16)
                        | (row[i + 3] < Faint ? 0xFF000000 : 0);
            }
        }
    }

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
