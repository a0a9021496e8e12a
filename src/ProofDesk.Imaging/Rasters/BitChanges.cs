using System.Numerics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>Positions at which a row changes colour, the form in which ITU-T T.6 sees rows.</summary>
internal static class BitChanges
{
    /// <summary>Entries equal to the width after the last change, so that coders may look ahead without asking.</summary>
    internal const int Sentinels = 4;

    /// <summary>Entries that always suffice for a row.</summary>
    internal static int Capacity(int width) => width + 1 + Sentinels;

    /// <summary>
    /// Lists the changes (the first one is to ink) and closes the list with the width. Returns how many lie within the row.
    /// </summary>
    internal static int List(ReadOnlySpan<ulong> row, int width, int[] changes)
    {
        var count = 0;
        ulong before = 0;
        for (var i = 0; i < row.Length; i++)
        {
            var word = row[i];
            var changed = word ^ (word << 1 | before);
            before = word >> 63;
            while (changed != 0)
            {
                changes[count++] = unchecked(i * 64 + BitOperations.TrailingZeroCount(changed));
                changed &= unchecked(changed - 1);
            }
        }
        // A row that ends in ink has its last change at the width when the last word has room for it.
        if (count > 0 && changes[count - 1] >= width)
            count--;
        changes.AsSpan(count, Sentinels).Fill(width);
        return count;
    }
}
