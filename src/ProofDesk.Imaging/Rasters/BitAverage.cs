using System.Numerics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>Share of ink in boxes of film pixels, 0..255.</summary>
public static class BitAverage
{
    /// <summary>
    /// Boxes of boxWidth x boxHeight pixels from the top left; a box cut off by the right or lower edge counts only the
    /// pixels it has.
    /// </summary>
    public static BytePlane Boxes(BitPlane bits, int boxWidth, int boxHeight)
    {
        if (boxWidth < 1 || boxHeight < 1 || boxWidth > 4096 || boxHeight > 4096)
            throw new ArgumentException($"a box is 1 to 4096 px; {boxWidth} x {boxHeight} given");
        var average = new BytePlane((bits.Width + boxWidth - 1) / boxWidth, (bits.Height + boxHeight - 1) / boxHeight);
        RowLoop.Run(
            average.Height,
            bits.Width * boxHeight / 16,
            row =>
            {
                var counts = new int[average.Width];
                var last = Math.Min(bits.Height, (row + 1) * boxHeight);
                for (var y = row * boxHeight; y < last; y++)
                    AddRow(bits.Row(y), bits.Width, boxWidth, counts);
                var target = average.Row(row);
                var rows = last - row * boxHeight;
                for (var x = 0; x < counts.Length; x++)
                {
                    var pixels = rows * Math.Min(boxWidth, bits.Width - x * boxWidth);
                    target[x] = (byte)((counts[x] * 255 + pixels / 2) / pixels);
                }
            }
        );
        return average;
    }

    private static void AddRow(ReadOnlySpan<ulong> row, int width, int boxWidth, int[] counts)
    {
        for (var x = 0; x < counts.Length; x++)
        {
            var from = x * boxWidth;
            var left = Math.Min(boxWidth, width - from);
            while (left > 0)
            {
                var n = Math.Min(64, left);
                var word = BitRows.Bits(row, from);
                counts[x] += BitOperations.PopCount(n == 64 ? word : word & ((1UL << n) - 1));
                from += n;
                left -= n;
            }
        }
    }
}
