namespace ProofDesk.Imaging.Rasters;

/// <summary>An 8-bit plane, row by row from the top left. In a plate: 0 = no ink, 255 = solid.</summary>
public sealed class BytePlane
{
    public BytePlane(int width, int height)
        : this(width, height, new byte[checked((long)width * height)]) { }

    public BytePlane(int width, int height, byte[] pixels)
    {
        if (width < 1 || height < 1)
            throw new ArgumentException($"a plane is at least 1 x 1; {width} x {height} given");
        if (pixels.LongLength != (long)width * height)
            throw new ArgumentException(
                $"{width} x {height} needs {(long)width * height} bytes; {pixels.LongLength} given"
            );
        (Width, Height, Pixels) = (width, height, pixels);
    }

    public int Width { get; }
    public int Height { get; }
    public byte[] Pixels { get; }

    public ref byte this[int x, int y] => ref Pixels[(long)y * Width + x];

    public Span<byte> Row(int y) => Pixels.AsSpan(checked(y * Width), Width);

    /// <summary>A plane that is one value all over.</summary>
    public static BytePlane Filled(int width, int height, byte value)
    {
        var filled = new BytePlane(width, height);
        filled.Pixels.AsSpan().Fill(value);
        return filled;
    }

    /// <summary>In each pixel the larger value of two planes of one size.</summary>
    public static BytePlane Larger(BytePlane one, BytePlane other)
    {
        if (one.Width != other.Width || one.Height != other.Height)
            throw new ArgumentException(
                $"planes of one size are needed; {one.Width} x {one.Height} and {other.Width} x {other.Height} given"
            );
        var larger = new BytePlane(one.Width, one.Height);
        for (var i = 0; i < larger.Pixels.Length; i++)
            larger.Pixels[i] = Math.Max(one.Pixels[i], other.Pixels[i]);
        return larger;
    }
}

/// <summary>
/// A 1-bit plane: 1 = ink (black on film). Rows are whole 64-bit words; pixel x of a row is bit (x mod 64), least
/// significant first, of word x / 64. Bits beyond the width are always 0.
/// </summary>
public sealed class BitPlane
{
    public BitPlane(int width, int height)
    {
        if (width < 1 || height < 1)
            throw new ArgumentException($"a plane is at least 1 x 1; {width} x {height} given");
        (Width, Height) = (width, height);
        Stride = (width + 63) / 64;
        Words = new ulong[checked((long)Stride * height)];
    }

    public int Width { get; }
    public int Height { get; }

    /// <summary>64-bit words in a row.</summary>
    public int Stride { get; }

    public ulong[] Words { get; }

    public Span<ulong> Row(int y) => Words.AsSpan(checked(y * Stride), Stride);

    public bool this[int x, int y]
    {
        get => (Words[(long)y * Stride + (x >> 6)] >> (x & 63) & 1) != 0;
        set
        {
            ref var word = ref Words[(long)y * Stride + (x >> 6)];
            var bit = 1UL << (x & 63);
            word = value ? word | bit : word & ~bit;
        }
    }
}

/// <summary>Linear-light sRGB with straight alpha, 16 bits a channel (65535 = 1.0), interleaved R G B A.</summary>
public sealed class RgbaRaster
{
    public RgbaRaster(int width, int height)
        : this(width, height, new ushort[checked((long)width * height * 4)]) { }

    public RgbaRaster(int width, int height, ushort[] pixels)
    {
        if (width < 1 || height < 1)
            throw new ArgumentException($"a picture is at least 1 x 1; {width} x {height} given");
        if (pixels.LongLength != (long)width * height * 4)
            throw new ArgumentException(
                $"{width} x {height} RGBA needs {(long)width * height * 4} values; {pixels.LongLength} given"
            );
        (Width, Height, Pixels) = (width, height, pixels);
    }

    public int Width { get; }
    public int Height { get; }
    public ushort[] Pixels { get; }

    /// <summary>The 4 x width values of a row.</summary>
    public Span<ushort> Row(int y) => Pixels.AsSpan(checked(y * Width * 4), Width * 4);
}

/// <summary>A finished picture: sRGB code values, 8 bits, interleaved R G B, with its true scale.</summary>
public sealed class RgbPicture
{
    public RgbPicture(int width, int height, double pixelsPerMm)
        : this(width, height, pixelsPerMm, new byte[checked((long)width * height * 3)]) { }

    public RgbPicture(int width, int height, double pixelsPerMm, byte[] pixels)
    {
        if (pixels.LongLength != (long)width * height * 3)
            throw new ArgumentException(
                $"{width} x {height} RGB needs {(long)width * height * 3} bytes; {pixels.LongLength} given"
            );
        (Width, Height, PixelsPerMm, Pixels) = (width, height, pixelsPerMm, pixels);
    }

    public int Width { get; }
    public int Height { get; }
    public double PixelsPerMm { get; }
    public byte[] Pixels { get; }

    public Span<byte> Row(int y) => Pixels.AsSpan(checked(y * Width * 3), Width * 3);
}
