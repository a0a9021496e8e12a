using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Growing and shrinking of ink by discs, 64 pixels at a time. A disc is a union of centred rectangles, one for each
/// half-width; joined from the widest to the narrowest, each row needs 2 x reach row joins and, by Horner's scheme, only
/// as many one-pixel widenings as the widest rectangle has pixels to one side.
/// Outside the source everything is blank.
/// </summary>
public static class Morphology
{
    /// <summary>
    /// Ink where a pixel of the disc around it is ink. Row y of <paramref name="target"/> lies at row y +
    /// <paramref name="sourceTop"/> of <paramref name="source"/>; give the source a halo of <see cref="Disc.Reach"/> rows.
    /// </summary>
    public static void Dilate(BitPlane source, BitPlane target, int sourceTop, Disc disc) =>
        Rows<Grow>(source, target, sourceTop, disc);

    /// <summary>Ink where all pixels of the disc around it are ink.</summary>
    public static void Erode(BitPlane source, BitPlane target, int sourceTop, Disc disc) =>
        Rows<Shrink>(source, target, sourceTop, disc);

    /// <summary>Dilated plane of the same size.</summary>
    public static BitPlane Dilate(BitPlane source, Disc disc)
    {
        var target = new BitPlane(source.Width, source.Height);
        Dilate(source, target, 0, disc);
        return target;
    }

    /// <summary>Eroded plane of the same size.</summary>
    public static BitPlane Erode(BitPlane source, Disc disc)
    {
        var target = new BitPlane(source.Width, source.Height);
        Erode(source, target, 0, disc);
        return target;
    }

    /// <summary>
    /// Opening: what a disc can reach without leaving the ink. Removes dots and lines narrower than the disc and keeps
    /// everything else as it is. Halo: 2 x <see cref="Disc.Reach"/> rows.
    /// </summary>
    public static void Open(BitPlane source, BitPlane target, int sourceTop, Disc disc)
    {
        var eroded = new BitPlane(source.Width, target.Height + 2 * disc.Reach);
        Erode(source, eroded, sourceTop - disc.Reach, disc);
        Dilate(eroded, target, disc.Reach, disc);
    }

    /// <summary>Opened plane of the same size.</summary>
    public static BitPlane Open(BitPlane source, Disc disc)
    {
        var target = new BitPlane(source.Width, source.Height);
        Open(source, target, 0, disc);
        return target;
    }

    /// <summary>One row of a dilation: what <see cref="InkGrowth"/> builds on. Scratch: two rows of stride + 2 words.</summary>
    internal static void DilateRow(BitPlane source, int y, Disc disc, Span<ulong> scratch, Span<ulong> row) =>
        Row<Grow>(source, y, disc, scratch, row);

    internal static int ScratchWords(int stride) => 3 * (stride + 2);

    private static void Rows<TJoin>(BitPlane source, BitPlane target, int sourceTop, Disc disc)
        where TJoin : struct, IJoin
    {
        if (source.Width != target.Width)
            throw new ArgumentException($"source is {source.Width} px wide, target {target.Width} px");
        RowLoop.RunBands(
            target.Height,
            Math.Max(1, (1 << 18) / source.Width),
            (top, count) =>
            {
                Span<ulong> scratch = new ulong[ScratchWords(source.Stride)];
                for (var y = top; y < top + count; y++)
                    Row<TJoin>(source, y + sourceTop, disc, scratch, target.Row(y));
            }
        );
    }

    private static void Row<TJoin>(BitPlane source, int y, Disc disc, Span<ulong> scratch, Span<ulong> row)
        where TJoin : struct, IJoin
    {
        var stride = source.Stride;
        // Three rows, each with a blank word at both ends: rows joined so far, the result so far, and its widening.
        var joined = scratch[..(stride + 2)];
        var result = scratch.Slice(stride + 2, stride + 2);
        var wider = scratch.Slice(2 * (stride + 2), stride + 2);
        joined[0] = joined[^1] = result[0] = result[^1] = wider[0] = wider[^1] = 0;

        Load(source, y, joined[1..^1]);
        joined[1..^1].CopyTo(result[1..^1]);
        var half = disc.HalfWidth(0);
        for (var dy = 1; dy <= disc.Reach; dy++)
        {
            for (; half > disc.HalfWidth(dy); half--)
            {
                Widen<TJoin>(result, wider);
                var swap = result;
                result = wider;
                wider = swap;
            }
            JoinRow<TJoin>(source, y - dy, joined[1..^1]);
            JoinRow<TJoin>(source, y + dy, joined[1..^1]);
            Join<TJoin>(result[1..^1], joined[1..^1]);
        }
        for (; half > 0; half--)
        {
            Widen<TJoin>(result, wider);
            var swap = result;
            result = wider;
            wider = swap;
        }
        result[1..^1].CopyTo(row);
        BitRows.ClearBeyond(row, source.Width);
    }

    private static void Load(BitPlane source, int y, Span<ulong> row)
    {
        if (y >= 0 && y < source.Height)
            source.Row(y).CopyTo(row);
        else
            row.Clear();
    }

    private static void JoinRow<TJoin>(BitPlane source, int y, Span<ulong> row)
        where TJoin : struct, IJoin
    {
        if (y >= 0 && y < source.Height)
            Join<TJoin>(row, source.Row(y));
        else if (!TJoin.BlankIsNeutral)
            row.Clear();
    }

    private static void Join<TJoin>(Span<ulong> target, ReadOnlySpan<ulong> source)
        where TJoin : struct, IJoin
    {
        if (TJoin.BlankIsNeutral)
            BitRows.Or(target, source);
        else
            BitRows.And(target, source);
    }

    /// <summary>Joins each pixel with its left and right neighbour. Rows have a blank word at both ends.</summary>
    private static void Widen<TJoin>(ReadOnlySpan<ulong> source, Span<ulong> target)
        where TJoin : struct, IJoin
    {
        ref var s = ref MemoryMarshal.GetReference(source);
        ref var t = ref MemoryMarshal.GetReference(target);
        var i = 1;
        for (; i + Vector256<ulong>.Count < source.Length; i += Vector256<ulong>.Count)
        {
            var here = Vector256.LoadUnsafe(ref s, (nuint)i);
            var left = (here << 1) | (Vector256.LoadUnsafe(ref s, (nuint)(i - 1)) >>> 63);
            var right = (here >>> 1) | (Vector256.LoadUnsafe(ref s, (nuint)(i + 1)) << 63);
            TJoin.Join(here, TJoin.Join(left, right)).StoreUnsafe(ref t, (nuint)i);
        }
        for (; i + 1 < source.Length; i++)
        {
            var left = (source[i] << 1) | (source[i - 1] >> 63);
            var right = (source[i] >> 1) | (source[i + 1] << 63);
            target[i] = TJoin.Join(source[i], TJoin.Join(left, right));
        }
    }

    private interface IJoin
    {
        static abstract bool BlankIsNeutral { get; }
        static abstract ulong Join(ulong a, ulong b);
        static abstract Vector256<ulong> Join(Vector256<ulong> a, Vector256<ulong> b);
    }

    private readonly struct Grow : IJoin
    {
        public static bool BlankIsNeutral => true;

        public static ulong Join(ulong a, ulong b) => a | b;

        public static Vector256<ulong> Join(Vector256<ulong> a, Vector256<ulong> b) => a | b;
    }

    private readonly struct Shrink : IJoin
    {
        public static bool BlankIsNeutral => false;

        public static ulong Join(ulong a, ulong b) => a & b;

        public static Vector256<ulong> Join(Vector256<ulong> a, Vector256<ulong> b) => a & b;
    }
}
