using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Which pixels of a row look like the two beside them, or like the two above and below: pixels of four bytes, of which none may differ by
/// more than so much. <see cref="PlainAt"/> is the judge of the vector path.
/// </summary>
public static class AlikeNeighbours
{
    /// <summary>Like both neighbours in the row.</summary>
    public const byte Across = 1;

    /// <summary>Like both neighbours in the rows above and below.</summary>
    public const byte Down = 2;

    /// <param name="own">With one pixel more before and after the row.</param>
    /// <param name="marks">One for each pixel: <see cref="Across"/>, <see cref="Down"/>, both or neither.</param>
    public static void Mark(
        ReadOnlySpan<uint> above,
        ReadOnlySpan<uint> own,
        ReadOnlySpan<uint> below,
        byte within,
        Span<byte> marks
    )
    {
        if (above.Length != marks.Length || below.Length != marks.Length || own.Length != marks.Length + 2)
            throw new ArgumentException(
                $"rows of {above.Length}, {own.Length} and {below.Length} pixels do not fit {marks.Length}"
            );
        ref var up = ref MemoryMarshal.GetReference(above);
        ref var here = ref MemoryMarshal.GetReference(own);
        ref var down = ref MemoryMarshal.GetReference(below);
        var x = 0;
        unchecked
        {
            for (; x + Vector256<uint>.Count <= marks.Length; x += Vector256<uint>.Count)
            {
                var at = Vector256.LoadUnsafe(ref here, (nuint)(x + 1));
                var across =
                    Alike(at, Vector256.LoadUnsafe(ref here, (nuint)x), within)
                    & Alike(at, Vector256.LoadUnsafe(ref here, (nuint)(x + 2)), within);
                var along =
                    Alike(at, Vector256.LoadUnsafe(ref up, (nuint)x), within)
                    & Alike(at, Vector256.LoadUnsafe(ref down, (nuint)x), within);
                var mark = (across & Vector256.Create((uint)Across)) | (along & Vector256.Create((uint)Down));
                for (var i = 0; i < Vector256<uint>.Count; i++)
                    marks[x + i] = (byte)mark[i];
            }
        }
        for (; x < marks.Length; x++)
            marks[x] = PlainAt(above, own, below, within, x);
    }

    internal static byte PlainAt(
        ReadOnlySpan<uint> above,
        ReadOnlySpan<uint> own,
        ReadOnlySpan<uint> below,
        byte within,
        int x
    )
    {
        var at = own[x + 1];
        var across = Alike(at, own[x], within) && Alike(at, own[x + 2], within);
        var down = Alike(at, above[x], within) && Alike(at, below[x], within);
        return (byte)((across ? Across : 0) | (down ? Down : 0));
    }

    private static Vector256<uint> Alike(Vector256<uint> a, Vector256<uint> b, byte within)
    {
        var (one, other) = (a.AsByte(), b.AsByte());
        var apart = Vector256.Max(one, other) - Vector256.Min(one, other);
        return Vector256.Equals(
            Vector256.LessThanOrEqual(apart, Vector256.Create(within)).AsUInt32(),
            Vector256<uint>.AllBitsSet
        );
    }

    private static bool Alike(uint a, uint b, byte within)
    {
        for (var shift = 0; shift < 32; shift += 8)
            if (Math.Abs((int)(a >> shift & 255) - (int)(b >> shift & 255)) > within)
                return false;
        return true;
    }
}
