using System.Numerics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Moves the edges of a continuous tone by a distance that need not be whole: each pixel becomes the darkest (or, drawn
/// in, the lightest) within a disc around it, on the plane interpolated between pixels. A level's outline moves by the radius
/// in every direction, flat edges keep their width. The disc is its whole pixels, row by row as running
/// maxima, and points around its rim.
/// </summary>
public static class ToneEdges
{
    /// <summary>Points around the rim: the outline between two of them lies within half a hundredth of the radius.</summary>
    private const int RimPoints = 32;

    /// <summary>Positive px spreads what is dark, negative px draws it in. Beyond the plane its border goes on.</summary>
    public static BytePlane Moved(BytePlane tone, double px)
    {
        var radius = Math.Abs(px);
        if (radius == 0)
            return tone;
        var flip = px < 0 ? (byte)255 : (byte)0;
        var rim = (int)Math.Ceiling(radius) + 1;
        var padded = Padded(tone, rim, flip);
        var chords = Chords(radius);
        var points = Points(radius);
        var moved = new BytePlane(tone.Width, tone.Height);
        RowLoop.RunBands(
            tone.Height,
            64,
            (top, count) =>
            {
                var most = new byte[padded.Width];
                var run = new byte[padded.Width];
                for (var y = top; y < top + count; y++)
                {
                    padded.Row(y + rim).Slice(rim, tone.Width).CopyTo(most);
                    foreach (var (dy, half) in chords)
                        Chord(padded, y + rim + dy, rim - half, 2 * half + 1, tone.Width, run, most);
                    foreach (var point in points)
                        Point(padded, y + rim, rim, point, tone.Width, most);
                    var to = moved.Row(y);
                    for (var x = 0; x < to.Length; x++)
                        to[x] = (byte)(most[x] ^ flip);
                }
            }
        );
        return moved;
    }

    /// <summary>The same, point by point: judge of the fast one.</summary>
    internal static BytePlane Plain(BytePlane tone, double px)
    {
        var flip = px < 0 ? 255 : 0;
        var moved = new BytePlane(tone.Width, tone.Height);
        for (var y = 0; y < tone.Height; y++)
        for (var x = 0; x < tone.Width; x++)
        {
            var most = At(x, y);
            foreach (var (dy, half) in Chords(Math.Abs(px)))
                for (var dx = -half; dx <= half; dx++)
                    most = Math.Max(most, At(x + dx, y + dy));
            foreach (var (dx, dy, a, b, c, d) in Points(Math.Abs(px)))
                most = Math.Max(
                    most,
                    a * At(x + dx, y + dy)
                        + b * At(x + dx + 1, y + dy)
                        + c * At(x + dx, y + dy + 1)
                        + d * At(x + dx + 1, y + dy + 1)
                        + 128
                        >> 8
                );
            moved[x, y] = (byte)(most ^ flip);
        }
        return moved;

        int At(int x, int y) => tone[Math.Clamp(x, 0, tone.Width - 1), Math.Clamp(y, 0, tone.Height - 1)] ^ flip;
    }

    private static (int Dy, int Half)[] Chords(double radius)
    {
        var reach = (int)radius;
        return
        [
            .. Enumerable
                .Range(-reach, 2 * reach + 1)
                .Select(dy => (dy, (int)Math.Sqrt(radius * radius - (double)dy * dy))),
        ];
    }

    /// <summary>Whole steps to the pixel at the upper left of a point, and the weights of its four pixels, in 256ths.</summary>
    private static (int Dx, int Dy, int A, int B, int C, int D)[] Points(double radius)
    {
        var points = new List<(int, int, int, int, int, int)>();
        for (var i = 0; i < RimPoints; i++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / RimPoints);
            // In 16ths of a pixel: the weights are whole, and opposite points are opposite.
            var (x, y) = ((int)Math.Round(16 * radius * cos), (int)Math.Round(16 * radius * sin));
            var (fx, fy) = (x & 15, y & 15);
            points.Add((x >> 4, y >> 4, (16 - fx) * (16 - fy), fx * (16 - fy), (16 - fx) * fy, fx * fy));
        }
        return [.. points.Distinct()];
    }

    private static BytePlane Padded(BytePlane tone, int rim, byte flip)
    {
        // A vector more at the end, so that whole vectors may be read and written past the last pixel.
        var padded = new BytePlane(tone.Width + 2 * rim + 2 * Vector<byte>.Count, tone.Height + 2 * rim);
        RowLoop.Run(
            padded.Height,
            padded.Width,
            y =>
            {
                var from = tone.Row(Math.Clamp(y - rim, 0, tone.Height - 1));
                var to = padded.Row(y);
                to[..rim].Fill((byte)(from[0] ^ flip));
                for (var x = 0; x < from.Length; x++)
                    to[rim + x] = (byte)(from[x] ^ flip);
                to[(rim + from.Length)..].Fill((byte)(from[^1] ^ flip));
            }
        );
        return padded;
    }

    /// <summary>The greatest of <paramref name="length"/> pixels in a row, by doubling.</summary>
    private static void Chord(BytePlane padded, int y, int left, int length, int width, byte[] run, byte[] most)
    {
        var row = padded.Row(y)[left..];
        var needed = width + length - 1;
        row[..Math.Min(row.Length, needed + Vector<byte>.Count)].CopyTo(run);
        var have = 1;
        while (2 * have <= length)
        {
            needed -= have;
            Greater(run, have, needed);
            have *= 2;
        }
        if (have < length)
            Greater(run, length - have, width);
        for (var x = 0; x < width; x += Vector<byte>.Count)
            Vector.Max(new Vector<byte>(most, x), new Vector<byte>(run, x)).CopyTo(most, x);
    }

    private static void Greater(byte[] run, int ahead, int count)
    {
        for (var x = 0; x < count; x += Vector<byte>.Count)
            Vector.Max(new Vector<byte>(run, x), new Vector<byte>(run, x + ahead)).CopyTo(run, x);
    }

    private static void Point(
        BytePlane padded,
        int y,
        int rim,
        (int Dx, int Dy, int A, int B, int C, int D) point,
        int width,
        byte[] most
    )
    {
        var above = padded.Row(y + point.Dy)[(rim + point.Dx)..];
        var below = padded.Row(y + point.Dy + 1)[(rim + point.Dx)..];
        var (a, b) = (new Vector<ushort>((ushort)point.A), new Vector<ushort>((ushort)point.B));
        var (c, d) = (new Vector<ushort>((ushort)point.C), new Vector<ushort>((ushort)point.D));
        var half = new Vector<ushort>(128);
        for (var x = 0; x < width; x += Vector<byte>.Count)
        {
            Vector.Widen(new Vector<byte>(above[x..]), out var aLow, out var aHigh);
            Vector.Widen(new Vector<byte>(above[(x + 1)..]), out var bLow, out var bHigh);
            Vector.Widen(new Vector<byte>(below[x..]), out var cLow, out var cHigh);
            Vector.Widen(new Vector<byte>(below[(x + 1)..]), out var dLow, out var dHigh);
            // The weights add up to 256: 256 x 255 + 128 still fits.
            var low = Vector.ShiftRightLogical(aLow * a + bLow * b + cLow * c + dLow * d + half, 8);
            var high = Vector.ShiftRightLogical(aHigh * a + bHigh * b + cHigh * c + dHigh * d + half, 8);
            Vector.Max(new Vector<byte>(most, x), Vector.Narrow(low, high)).CopyTo(most, x);
        }
    }
}
