using System.Numerics;
using System.Runtime.InteropServices;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// The least or the most value within a square around each pixel; outside the plane there is nothing. Rows are compared as vectors
/// of bytes; <see cref="PlainAt"/> is the judge.
/// </summary>
public static class Extremes
{
    private const int RowsAtATime = 64;

    /// <summary>The least value of the square of 2 radius + 1 pixels a side.</summary>
    public static BytePlane Least(BytePlane source, int radius) => Square<Lower>(source, radius);

    /// <summary>The most value of the square of 2 radius + 1 pixels a side.</summary>
    public static BytePlane Most(BytePlane source, int radius) => Square<Higher>(source, radius);

    internal static byte PlainAt(BytePlane source, int x, int y, int radius, bool most)
    {
        var extreme = most ? 0 : 255;
        for (var ny = y - radius; ny <= y + radius; ny++)
        for (var nx = x - radius; nx <= x + radius; nx++)
        {
            var outside = nx < 0 || ny < 0 || nx >= source.Width || ny >= source.Height;
            var value = outside ? 0 : source[nx, ny];
            extreme = most ? Math.Max(extreme, value) : Math.Min(extreme, value);
        }
        return (byte)extreme;
    }

    private interface IOrder
    {
        static abstract byte Of(byte one, byte other);
        static abstract Vector<byte> Of(Vector<byte> one, Vector<byte> other);
    }

    private readonly struct Lower : IOrder
    {
        public static byte Of(byte one, byte other) => Math.Min(one, other);

        public static Vector<byte> Of(Vector<byte> one, Vector<byte> other) => Vector.Min(one, other);
    }

    private readonly struct Higher : IOrder
    {
        public static byte Of(byte one, byte other) => Math.Max(one, other);

        public static Vector<byte> Of(Vector<byte> one, Vector<byte> other) => Vector.Max(one, other);
    }

    private static BytePlane Square<T>(BytePlane source, int radius)
        where T : struct, IOrder
    {
        ArgumentOutOfRangeException.ThrowIfNegative(radius);
        var result = new BytePlane(source.Width, source.Height);
        RowLoop.RunBands(
            source.Height,
            RowsAtATime,
            (top, count) =>
            {
                // Rows across first, with the rows above and below that the band's own rows reach.
                var across = new byte[(count + 2 * radius) * source.Width];
                var padded = new byte[source.Width + 2 * radius];
                for (var i = 0; i < count + 2 * radius; i++)
                {
                    var y = top - radius + i;
                    if (y < 0 || y >= source.Height)
                        continue;
                    source.Row(y).CopyTo(padded.AsSpan(radius));
                    var row = across.AsSpan(i * source.Width, source.Width);
                    padded.AsSpan(0, source.Width).CopyTo(row);
                    for (var d = 1; d <= 2 * radius; d++)
                        Join<T>(padded.AsSpan(d, source.Width), row);
                }
                for (var y = 0; y < count; y++)
                {
                    var row = result.Row(top + y);
                    across.AsSpan(y * source.Width, source.Width).CopyTo(row);
                    for (var d = 1; d <= 2 * radius; d++)
                        Join<T>(across.AsSpan((y + d) * source.Width, source.Width), row);
                }
            }
        );
        return result;
    }

    private static void Join<T>(ReadOnlySpan<byte> other, Span<byte> row)
        where T : struct, IOrder
    {
        ref var from = ref MemoryMarshal.GetReference(other);
        ref var to = ref MemoryMarshal.GetReference(row);
        var x = 0;
        for (; x <= row.Length - Vector<byte>.Count; x += Vector<byte>.Count)
            T.Of(Vector.LoadUnsafe(ref from, (nuint)x), Vector.LoadUnsafe(ref to, (nuint)x))
                .StoreUnsafe(ref to, (nuint)x);
        for (; x < row.Length; x++)
            row[x] = T.Of(other[x], row[x]);
    }
}
