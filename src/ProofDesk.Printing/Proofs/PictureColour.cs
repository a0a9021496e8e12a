using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Light leaving the cloth to sRGB code values: colorimetric, display white = the perfect diffuser under the viewing light.
/// What sRGB cannot show keeps hue and lightness and loses chroma, and is counted. One instance a thread; results do not
/// depend on the order of the pixels.
/// </summary>
internal sealed class PictureColour
{
    private const int EncodeSteps = 1 << 14;
    private const int EncodeEnds = 4;

    // As much outside as changes no 8-bit code: half a step at the dark end (see GamutMapping).
    private const float Tolerance = 1e-4f;

    // Colours outside are mapped after rounding the square root of each channel to 1/512, a third of a code step.
    private const float RootSteps = 512;
    private const int CacheSize = 1 << 14;

    private readonly ViewingLight _light;
    private readonly byte[] _encode;
    private readonly float[] _matrix = new float[9];
    private readonly ulong[] _keys = new ulong[CacheSize];
    private readonly uint[] _mapped = new uint[CacheSize];

    public PictureColour(ViewingLight light)
    {
        _light = light;
        _encode = EncodeTable();
        for (var column = 0; column < 3; column++)
        {
            var rgb = Srgb.FromXyz(new(column == 0 ? 100 : 0, column == 1 ? 100 : 0, column == 2 ? 100 : 0), light);
            _matrix[column] = (float)rgb.R;
            _matrix[3 + column] = (float)rgb.G;
            _matrix[6 + column] = (float)rgb.B;
        }
    }

    /// <summary>The same, counting for itself.</summary>
    public PictureColour Another() => new(_light);

    /// <summary>Pixels sRGB could not show.</summary>
    public long Outside { get; private set; }

    /// <summary>Largest CIEDE2000 between computed and shown colour.</summary>
    public double MaxDeltaE { get; private set; }

    /// <summary>Encodes a row; X, Y, Z relative to a perfect diffuser with Y = 1.</summary>
    /// <param name="outside">Bit per pixel, set where the colour was mapped.</param>
    public void Encode(
        ReadOnlySpan<float> x,
        ReadOnlySpan<float> y,
        ReadOnlySpan<float> z,
        Span<byte> rgb,
        Span<ulong> outside
    )
    {
        var (m0, m1, m2) = (_matrix[0], _matrix[1], _matrix[2]);
        var (m3, m4, m5) = (_matrix[3], _matrix[4], _matrix[5]);
        var (m6, m7, m8) = (_matrix[6], _matrix[7], _matrix[8]);
        y = y[..x.Length];
        z = z[..x.Length];
        for (var i = 0; i < x.Length; i++)
        {
            var r = m0 * x[i] + m1 * y[i] + m2 * z[i];
            var g = m3 * x[i] + m4 * y[i] + m5 * z[i];
            var b = m6 * x[i] + m7 * y[i] + m8 * z[i];
            if (Inside(r) && Inside(g) && Inside(b))
            {
                rgb[3 * i] = Code(r);
                rgb[3 * i + 1] = Code(g);
                rgb[3 * i + 2] = Code(b);
                continue;
            }
            var shown = Mapped(r, g, b);
            rgb[3 * i] = (byte)(shown & 0xFF);
            rgb[3 * i + 1] = (byte)(shown >> 8 & 0xFF);
            rgb[3 * i + 2] = (byte)(shown >> 16 & 0xFF);
            outside[i >> 6] |= 1UL << (i & 63);
            Outside++;
        }
    }

    private static bool Inside(float v) => v is >= -Tolerance and <= 1 + Tolerance;

    // v is inside the tolerance, which the table's ends cover.
    private byte Code(float v) => _encode[(int)(v * (EncodeSteps - 1) + (EncodeEnds + 0.5f))];

    private uint Mapped(float r, float g, float b)
    {
        var key = (ulong)(uint)Root(r) << 42 | (ulong)(uint)Root(g) << 21 | (uint)Root(b);
        var place = (int)(unchecked(key * 0x9E3779B97F4A7C15UL) >> 50);
        if (_keys[place] == key)
            return _mapped[place];
        var wanted = new LinearRgb(Back(Root(r)), Back(Root(g)), Back(Root(b)));
        var shown = GamutMapping.IntoSrgb(wanted);
        var difference = Ciede2000.Difference(Lab(wanted), Lab(shown));
        MaxDeltaE = Math.Max(MaxDeltaE, difference);
        _keys[place] = key;
        return _mapped[place] =
            Code((float)shown.R) | (uint)Code((float)shown.G) << 8 | (uint)Code((float)shown.B) << 16;
    }

    private Lab Lab(LinearRgb rgb) => CieLab.FromXyz(Srgb.ToXyz(rgb, _light), _light);

    // Signed square root in steps, moved up by 2^20 so that it stays positive; never 0, the empty key.
    private static int Root(float v) =>
        (1 << 20) + (int)MathF.Round(MathF.CopySign(MathF.Sqrt(MathF.Abs(v)), v) * RootSteps);

    private static double Back(int root)
    {
        var v = (root - (1 << 20)) / (double)RootSteps;
        return Math.CopySign(v * v, v);
    }

    private static byte[] EncodeTable()
    {
        var table = new byte[EncodeSteps + 2 * EncodeEnds];
        for (var i = 0; i < table.Length; i++)
            table[i] = (byte)
                Math.Round(255 * Srgb.Encode(Math.Clamp((i - EncodeEnds) / (double)(EncodeSteps - 1), 0, 1)));
        return table;
    }
}
