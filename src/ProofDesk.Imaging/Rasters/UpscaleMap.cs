namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Where the pixels of a finer row (or column) lie between those of a coarser one, in whole numbers, so that the plain
/// and the vector path of <see cref="HalftoneRows"/> cannot differ. Fine pixel x lies between coarse pixels Index[x] and
/// Index[x] + 1 (Index may be -1; beyond the ends the last pixel repeats).
/// </summary>
internal sealed class UpscaleMap
{
    /// <summary>One, in the scale of <see cref="Fraction"/>.</summary>
    internal const int FractionOne = 1 << 15;

    /// <summary>One, in the scale of <see cref="Cubic"/>.</summary>
    internal const int CubicOne = 1 << 14;

    internal UpscaleMap(int coarse, int fine)
    {
        if (coarse > fine)
            throw new ArgumentException($"{coarse} px cannot be upscaled to {fine} px; shrink them first");
        (Coarse, Fine) = (coarse, fine);
        // Rounded up to whole words, so that the vector path may read 64 entries from any multiple of 64.
        var padded = (fine + 63) / 64 * 64;
        Index = new int[padded];
        Fraction = new short[padded];
        Step = new short[padded];
        Cubic = new short[4][];
        for (var k = 0; k < 4; k++)
            Cubic[k] = new short[padded];
        for (var x = 0; x < padded; x++)
        {
            // (x + 1/2) coarse / fine - 1/2, as an exact fraction with the denominator 2 x fine.
            var numerator = (2L * Math.Min(x, fine - 1) + 1) * coarse - fine;
            var i = (int)Math.Floor(numerator / (2.0 * fine));
            var rest = numerator - i * 2L * fine;
            Index[x] = i;
            Fraction[x] = (short)Math.Min(FractionOne - 1, (rest * FractionOne + fine) / (2L * fine));
            SetCubic(x, rest / (2.0 * fine));
            Step[x] = (short)(i - Index[x & ~31]);
        }
    }

    internal int Coarse { get; }
    internal int Fine { get; }
    internal int[] Index { get; }

    /// <summary>Way from the pixel at Index to the next one, 0..32767 = 0..1.</summary>
    internal short[] Fraction { get; }

    /// <summary>Index[x] less the Index of the 32 pixels' first: where a vector of 32 looks.</summary>
    internal short[] Step { get; }

    /// <summary>Weights of the pixels at Index - 1 .. Index + 2; they sum to 16,384.</summary>
    internal short[][] Cubic { get; }

    /// <summary>Cubic convolution, a = -1/2 (Keys 1981, IEEE Trans. ASSP 29:1153, equation 15).</summary>
    private void SetCubic(int x, double s)
    {
        var (s2, s3) = (s * s, s * s * s);
        Cubic[0][x] = (short)Math.Round(CubicOne * (-s3 + 2 * s2 - s) / 2);
        Cubic[2][x] = (short)Math.Round(CubicOne * (-3 * s3 + 4 * s2 + s) / 2);
        Cubic[3][x] = (short)Math.Round(CubicOne * (s3 - s2) / 2);
        Cubic[1][x] = (short)(CubicOne - Cubic[0][x] - Cubic[2][x] - Cubic[3][x]);
    }

    /// <summary>(a x b + 2^14) / 2^15, rounded down: what one vector instruction does with 16-bit numbers.</summary>
    internal static int MultiplyRounded(int a, int b) => (a * b + 0x4000) >> 15;
}
