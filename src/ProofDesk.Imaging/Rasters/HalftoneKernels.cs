using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// The arithmetic of <see cref="HalftoneRows"/>, 32 pixels at a time where the processor can, else one by one; the same
/// 16-bit numbers either way.
/// </summary>
internal static class HalftoneKernels
{
    /// <summary>Smallest and largest so far.</summary>
    internal static void MinMax(ReadOnlySpan<byte> row, Span<byte> low, Span<byte> high)
    {
        ref var r = ref MemoryMarshal.GetReference(row);
        ref var l = ref MemoryMarshal.GetReference(low[..row.Length]);
        ref var h = ref MemoryMarshal.GetReference(high[..row.Length]);
        var x = 0;
        for (; x <= row.Length - Vector256<byte>.Count; x += Vector256<byte>.Count)
        {
            var value = Vector256.LoadUnsafe(ref r, (nuint)x);
            Vector256.Min(value, Vector256.LoadUnsafe(ref l, (nuint)x)).StoreUnsafe(ref l, (nuint)x);
            Vector256.Max(value, Vector256.LoadUnsafe(ref h, (nuint)x)).StoreUnsafe(ref h, (nuint)x);
        }
        for (; x < row.Length; x++)
        {
            low[x] = Math.Min(low[x], row[x]);
            high[x] = Math.Max(high[x], row[x]);
        }
    }

    /// <summary>Tones x 128 between two art rows.</summary>
    internal static void Between(ReadOnlySpan<byte> above, ReadOnlySpan<byte> below, short fraction, Span<short> row)
    {
        ref var a = ref MemoryMarshal.GetReference(above);
        ref var b = ref MemoryMarshal.GetReference(below[..above.Length]);
        ref var t = ref MemoryMarshal.GetReference(row[..above.Length]);
        var x = 0;
        if (Avx2.IsSupported)
        {
            var weight = Vector256.Create(fraction);
            for (; x <= above.Length - 16; x += 16)
            {
                var top = Tones(ref a, x);
                (top + Avx2.MultiplyHighRoundScale(Tones(ref b, x) - top, weight)).StoreUnsafe(ref t, (nuint)x);
            }
        }
        for (; x < above.Length; x++)
        {
            var top = above[x] * ThresholdTile.StepsPerTone;
            var bottom = below[x] * ThresholdTile.StepsPerTone;
            row[x] = (short)(top + UpscaleMap.MultiplyRounded(bottom - top, fraction));
        }
    }

    /// <summary>Coverages x 64 by cubic convolution of four art rows.</summary>
    internal static void Cubic(
        ReadOnlySpan<byte> row0,
        ReadOnlySpan<byte> row1,
        ReadOnlySpan<byte> row2,
        ReadOnlySpan<byte> row3,
        (short W0, short W1, short W2, short W3) weights,
        Span<short> row
    )
    {
        var width = row0.Length;
        ref var a = ref MemoryMarshal.GetReference(row0);
        ref var b = ref MemoryMarshal.GetReference(row1[..width]);
        ref var c = ref MemoryMarshal.GetReference(row2[..width]);
        ref var d = ref MemoryMarshal.GetReference(row3[..width]);
        ref var t = ref MemoryMarshal.GetReference(row[..width]);
        var x = 0;
        if (Avx2.IsSupported)
        {
            var (w0, w1) = (Vector256.Create(weights.W0), Vector256.Create(weights.W1));
            var (w2, w3) = (Vector256.Create(weights.W2), Vector256.Create(weights.W3));
            for (; x <= width - 16; x += 16)
            {
                var sum =
                    Avx2.MultiplyHighRoundScale(Tones(ref a, x), w0)
                    + Avx2.MultiplyHighRoundScale(Tones(ref b, x), w1)
                    + Avx2.MultiplyHighRoundScale(Tones(ref c, x), w2)
                    + Avx2.MultiplyHighRoundScale(Tones(ref d, x), w3);
                sum.StoreUnsafe(ref t, (nuint)x);
            }
        }
        for (; x < width; x++)
            row[x] = (short)(
                Weighted(row0[x], weights.W0)
                + Weighted(row1[x], weights.W1)
                + Weighted(row2[x], weights.W2)
                + Weighted(row3[x], weights.W3)
            );

        static int Weighted(byte value, short weight) =>
            UpscaleMap.MultiplyRounded(value * ThresholdTile.StepsPerTone, weight);
    }

    /// <summary>Keeps the ink of words, the first at film pixel x, where the tone exceeds the threshold.</summary>
    /// <param name="thresholds">A row of the tile, <paramref name="period"/> + 64 entries.</param>
    /// <param name="at">Entry of the first film pixel.</param>
    internal static void AndTones(
        Span<ulong> words,
        int x,
        short[] row,
        UpscaleMap map,
        ReadOnlySpan<short> thresholds,
        int at,
        int period
    )
    {
        for (var i = 0; i < words.Length; i++, x += 64)
        {
            if (words[i] != 0)
                words[i] &= Avx512BW.IsSupported
                    ? ToneBits(row, map, x, thresholds, at) | ToneBits(row, map, x + 32, thresholds, at + 32) << 32
                    : PlainTone(row, map, x, thresholds[at..]);
            at = Next(at, period);
        }
    }

    /// <summary>Keeps the ink of words where the pattern has ink too.</summary>
    internal static void AndPattern(Span<ulong> words, ReadOnlySpan<ulong> pattern, int at, int period)
    {
        for (var i = 0; i < words.Length; i++)
        {
            var (word, bit) = (at >> 6, at & 63);
            words[i] &= pattern[word] >> bit | pattern[word + 1] << 1 << (63 - bit);
            at = Next(at, period);
        }
    }

    /// <summary>Entry of the tile 64 film pixels on.</summary>
    private static int Next(int at, int period) => period > 64 && at < period - 64 ? at + 64 : (at + 64) % period;

    /// <summary>Ink where the coverage is at least one half; the first word at film pixel x.</summary>
    internal static void Edges(Span<ulong> words, int x, short[] row, UpscaleMap map)
    {
        for (var i = 0; i < words.Length; i++, x += 64)
            words[i] = Avx512BW.IsSupported
                ? EdgeBits(row, map, x) | EdgeBits(row, map, x + 32) << 32
                : PlainEdge(row, map, x);
    }

    internal static ulong PlainTone(short[] row, UpscaleMap map, int x, ReadOnlySpan<short> thresholds)
    {
        ulong word = 0;
        for (var i = 0; i < 64; i++)
        {
            var at = map.Index[x + i] + HalftonePlan.Pad;
            var tone = row[at] + UpscaleMap.MultiplyRounded(row[at + 1] - row[at], map.Fraction[x + i]);
            if (tone > thresholds[i])
                word |= 1UL << i;
        }
        return word;
    }

    internal static ulong PlainEdge(short[] row, UpscaleMap map, int x)
    {
        ulong word = 0;
        for (var i = 0; i < 64; i++)
        {
            var at = map.Index[x + i] + HalftonePlan.Pad - 1;
            var coverage = 0;
            for (var k = 0; k < 4; k++)
                coverage += UpscaleMap.MultiplyRounded(row[at + k], map.Cubic[k][x + i]);
            if (coverage >= HalftoneRows.HalfCoverage)
                word |= 1UL << i;
        }
        return word;
    }

    private static ulong ToneBits(short[] row, UpscaleMap map, int x, ReadOnlySpan<short> thresholds, int first)
    {
        ref var source = ref MemoryMarshal.GetArrayDataReference(row);
        var from = (nuint)(map.Index[x] + HalftonePlan.Pad);
        var low = Vector512.LoadUnsafe(ref source, from);
        var high = Vector512.LoadUnsafe(ref source, from + 32);
        var at = Vector512.LoadUnsafe(ref map.Step[x]);
        var left = Avx512BW.PermuteVar32x16x2(low, at, high);
        var right = Avx512BW.PermuteVar32x16x2(low, at + Vector512<short>.One, high);
        var way = Vector512.LoadUnsafe(ref map.Fraction[x]);
        var tone = left + Avx512BW.MultiplyHighRoundScale(right - left, way);
        var threshold = Vector512.LoadUnsafe(ref MemoryMarshal.GetReference(thresholds), (nuint)first);
        return Vector512.GreaterThan(tone, threshold).ExtractMostSignificantBits();
    }

    private static ulong EdgeBits(short[] row, UpscaleMap map, int x)
    {
        ref var source = ref MemoryMarshal.GetArrayDataReference(row);
        var from = (nuint)(map.Index[x] + HalftonePlan.Pad - 1);
        var low = Vector512.LoadUnsafe(ref source, from);
        var high = Vector512.LoadUnsafe(ref source, from + 32);
        var at = Vector512.LoadUnsafe(ref map.Step[x]);
        var coverage = Vector512<short>.Zero;
        for (var k = 0; k < 4; k++)
        {
            var value = Avx512BW.PermuteVar32x16x2(low, at + Vector512.Create((short)k), high);
            coverage += Avx512BW.MultiplyHighRoundScale(value, Vector512.LoadUnsafe(ref map.Cubic[k][x]));
        }
        return Vector512
            .GreaterThan(coverage, Vector512.Create((short)(HalftoneRows.HalfCoverage - 1)))
            .ExtractMostSignificantBits();
    }

    private static Vector256<short> Tones(ref byte row, int x) =>
        Avx2.ShiftLeftLogical(Avx2.ConvertToVector256Int16(Vector128.LoadUnsafe(ref row, (nuint)x)), 7);
}
