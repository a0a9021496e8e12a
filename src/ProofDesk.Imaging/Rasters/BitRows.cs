using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>Operations on rows of bits in the layout of <see cref="BitPlane"/>: pixel x is bit x mod 64 of word x / 64.</summary>
public static class BitRows
{
    /// <summary>Number of ink pixels.</summary>
    public static long CountInk(ReadOnlySpan<ulong> row)
    {
        long count = 0;
        foreach (var word in row)
            count += BitOperations.PopCount(word);
        return count;
    }

    /// <summary>Number of ink pixels of a plane.</summary>
    public static long CountInk(BitPlane plane) => CountInk(plane.Words);

    /// <summary>target |= source.</summary>
    public static void Or(Span<ulong> target, ReadOnlySpan<ulong> source)
    {
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source[..target.Length]);
        var i = 0;
        for (; i <= target.Length - Vector256<ulong>.Count; i += Vector256<ulong>.Count)
            (Vector256.LoadUnsafe(ref t, (nuint)i) | Vector256.LoadUnsafe(ref s, (nuint)i)).StoreUnsafe(
                ref t,
                (nuint)i
            );
        for (; i < target.Length; i++)
            target[i] |= source[i];
    }

    /// <summary>target &amp;= source.</summary>
    public static void And(Span<ulong> target, ReadOnlySpan<ulong> source)
    {
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source[..target.Length]);
        var i = 0;
        for (; i <= target.Length - Vector256<ulong>.Count; i += Vector256<ulong>.Count)
            (Vector256.LoadUnsafe(ref t, (nuint)i) & Vector256.LoadUnsafe(ref s, (nuint)i)).StoreUnsafe(
                ref t,
                (nuint)i
            );
        for (; i < target.Length; i++)
            target[i] &= source[i];
    }

    /// <summary>target |= source &amp; mask; a mask of eight words (512 px) repeats along the row.</summary>
    public static void OrMasked(Span<ulong> target, ReadOnlySpan<ulong> source, ReadOnlySpan<ulong> mask)
    {
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source[..target.Length]);
        ref var m = ref MemoryMarshal.GetReference(mask[..8]);
        var (first, second) = (Vector256.LoadUnsafe(ref m), Vector256.LoadUnsafe(ref m, 4));
        var i = 0;
        for (; i <= target.Length - 8; i += 8)
        {
            var at = (nuint)i;
            (Vector256.LoadUnsafe(ref t, at) | (Vector256.LoadUnsafe(ref s, at) & first)).StoreUnsafe(ref t, at);
            at += 4;
            (Vector256.LoadUnsafe(ref t, at) | (Vector256.LoadUnsafe(ref s, at) & second)).StoreUnsafe(ref t, at);
        }
        for (; i < target.Length; i++)
            target[i] |= source[i] & mask[i & 7];
    }

    /// <summary>target &amp;= ~source.</summary>
    public static void AndNot(Span<ulong> target, ReadOnlySpan<ulong> source)
    {
        source = source[..target.Length];
        for (var i = 0; i < target.Length; i++)
            target[i] &= ~source[i];
    }

    /// <summary>Clears the bits from <paramref name="width"/> on, as every row of a plane must have them.</summary>
    public static void ClearBeyond(Span<ulong> row, int width)
    {
        if ((width & 63) != 0)
            row[width >> 6] &= (1UL << (width & 63)) - 1;
        row[((width + 63) >> 6)..].Clear();
    }

    /// <summary>
    /// Pixels of a row moved right by <paramref name="dx"/> (left when negative): target[x] = source[x - dx]. What falls
    /// off is lost, what comes in is blank. Source and target must be different rows.
    /// </summary>
    public static void Move(ReadOnlySpan<ulong> source, Span<ulong> target, int width, int dx)
    {
        target.Clear();
        if (dx >= width || dx <= -width)
            return;
        CopyBits(source, Math.Max(0, -dx), target, Math.Max(0, dx), width - Math.Abs(dx));
    }

    /// <summary>Copies <paramref name="count"/> pixels between any two positions, whole words at a time.</summary>
    public static void CopyBits(ReadOnlySpan<ulong> source, int sourceX, Span<ulong> target, int targetX, int count)
    {
        while (count > 0)
        {
            var bit = targetX & 63;
            var n = Math.Min(64 - bit, count);
            var mask = n == 64 ? ulong.MaxValue : ((1UL << n) - 1) << bit;
            ref var word = ref target[targetX >> 6];
            word = (word & ~mask) | (Bits(source, sourceX) << bit & mask);
            sourceX += n;
            targetX += n;
            count -= n;
        }
    }

    /// <summary>Sets the pixels from <paramref name="from"/> up to, not including, <paramref name="to"/>.</summary>
    public static void FillRun(Span<ulong> row, int from, int to)
    {
        if (from >= to)
            return;
        var (first, last) = (from >> 6, (to - 1) >> 6);
        var head = ulong.MaxValue << (from & 63);
        var tail = ulong.MaxValue >> (63 - ((to - 1) & 63));
        if (first == last)
        {
            row[first] |= head & tail;
            return;
        }
        row[first] |= head;
        row[(first + 1)..last].Fill(ulong.MaxValue);
        row[last] |= tail;
    }

    /// <summary>The 64 pixels from x on; beyond the row blank.</summary>
    internal static ulong Bits(ReadOnlySpan<ulong> row, int x)
    {
        var (word, bit) = (x >> 6, x & 63);
        var low = word < row.Length ? row[word] >> bit : 0;
        return bit == 0 || word + 1 >= row.Length ? low : low | row[word + 1] << (64 - bit);
    }
}
