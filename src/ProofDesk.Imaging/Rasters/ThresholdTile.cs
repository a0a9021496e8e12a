using System.Runtime.CompilerServices;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// A threshold array that repeats along two integer vectors, kept as a brick (Holladay 1980, "An optimum algorithm for
/// halftone generation", Proc. SID 21:185): <see cref="Height"/> rows of <see cref="Width"/> thresholds; the brick below
/// is moved right by <see cref="ShiftX"/>. Ink where tone &gt; threshold, tones being 8-bit tones x 128.
/// </summary>
public sealed class ThresholdTile
{
    /// <summary>Steps between two 8-bit tones; 255 x 128 = 32,640 still fits a signed 16-bit number.</summary>
    public const int StepsPerTone = 128;

    /// <summary>Tone of a solid.</summary>
    public const int Solid = 255 * StepsPerTone;

    // Each row repeats its first 64 entries at the end, so that 64 pixels can be read from any start.
    private readonly short[] _thresholds;
    private readonly ulong[]?[] _patterns = new ulong[]?[256];

    /// <param name="width">Period along a row, px.</param>
    /// <param name="height">Rows of the brick.</param>
    /// <param name="shiftX">The brick below starts this many pixels further right, 0..width-1.</param>
    /// <param name="ranks">Order in which the brick's pixels get ink: each of 0..width*height-1 once.</param>
    public ThresholdTile(int width, int height, int shiftX, int[] ranks)
    {
        if (width < 1 || height < 1 || shiftX < 0 || shiftX >= width || ranks.LongLength != (long)width * height)
            throw new ArgumentException(
                $"a brick of {width} x {height} px, shifted {shiftX} px, does not fit {ranks.Length} ranks"
            );
        (Width, Height, ShiftX, Levels) = (width, height, shiftX, ranks.Length);
        _thresholds = new short[(width + 64) * height];
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width + 64; x++)
            _thresholds[y * (width + 64) + x] = Threshold(ranks[y * width + x % width], ranks.Length);
    }

    public int Width { get; }
    public int Height { get; }
    public int ShiftX { get; }

    /// <summary>Number of pixels that get ink one by one between nothing and solid.</summary>
    public int Levels { get; }

    /// <summary>
    /// (rank + 1/2) / levels of a solid, rounded down: then tone t inks exactly the ranks with rank + 1/2 &lt; t x levels
    /// / 255, that is, t x levels / 255 of them, rounded; none at 0, all at 255.
    /// </summary>
    private static short Threshold(int rank, int levels) => (short)((2L * rank + 1) * Solid / (2L * levels));

    /// <summary>Threshold of film pixel (x, y).</summary>
    public short this[int x, int y]
    {
        get
        {
            var (row, start) = Locate(y);
            return _thresholds[row * (Width + 64) + (int)(((long)x + start) % Width)];
        }
    }

    /// <summary>Row of the brick that holds film row y, and the entry that film pixel 0 starts at.</summary>
    internal (int Row, int Start) Locate(int y)
    {
        var brick = Math.DivRem(y, Height, out var row);
        var start = -(long)brick * ShiftX % Width;
        return (row, (int)(start < 0 ? start + Width : start));
    }

    /// <summary>Width + 64 thresholds of a brick row.</summary>
    internal ReadOnlySpan<short> Row(int row) => _thresholds.AsSpan(row * (Width + 64), Width + 64);

    /// <summary>Bits of a brick row at an 8-bit tone, with its first 64 pixels repeated at the end.</summary>
    internal ReadOnlySpan<ulong> Pattern(byte tone, int row)
    {
        var words = PatternWords;
        var pattern = Volatile.Read(ref _patterns[tone]) ?? MakePattern(tone);
        return pattern.AsSpan(row * words, words);
    }

    private int PatternWords => (Width + 64 + 63) / 64 + 1;

    [MethodImpl(MethodImplOptions.NoInlining)]
    private ulong[] MakePattern(byte tone)
    {
        var words = PatternWords;
        var pattern = new ulong[words * Height];
        for (var y = 0; y < Height; y++)
        {
            var thresholds = Row(y);
            for (var x = 0; x < thresholds.Length; x++)
                if (tone * StepsPerTone > thresholds[x])
                    pattern[y * words + (x >> 6)] |= 1UL << (x & 63);
        }
        Volatile.Write(ref _patterns[tone], pattern);
        return pattern;
    }
}
