namespace ProofDesk.Imaging.Colour;

/// <summary>
/// sRGB, [IEC-61966-2-1]. The matrices are derived from the chromaticities of the standard at full precision; the
/// standard's printed ones are rounded to four digits and do not invert each other. Display white is the perfect
/// diffuser under the viewing light (colorimetric, no black point compensation), so a white shirt is a little below it.
/// </summary>
public static class Srgb
{
    /// <summary>The white of the standard, x = 0.3127, y = 0.3290, Y = 100.</summary>
    internal static readonly Xyz White = Chromaticity(0.3127, 0.3290);

    internal static readonly Matrix3 LinearToXyz = Derive();

    // In the order of the lights.
    private static readonly Matrix3[] LinearTo =
    [
        .. Enum.GetValues<ViewingLight>()
            .Select(light => Bradford.Matrix(White, Tristimulus.White(light)).Times(LinearToXyz)),
    ];
    private static readonly Matrix3[] ToLinear = [.. LinearTo.Select(matrix => matrix.Inverse())];

    /// <summary>Code value 0..1 to linear light; odd about zero so that out-of-range values survive a round trip.</summary>
    public static double Decode(double value) =>
        value < 0 ? -Decode(-value)
        : value <= 0.04045 ? value / 12.92
        : Math.Pow((value + 0.055) / 1.055, 2.4);

    /// <summary>Linear light to code value 0..1; odd about zero.</summary>
    public static double Encode(double linear) =>
        linear < 0 ? -Encode(-linear)
        : linear <= 0.0031308 ? linear * 12.92
        : 1.055 * Math.Pow(linear, 1 / 2.4) - 0.055;

    /// <summary>Linear sRGB of a colour seen under a light, adapted to the display's white; may leave 0..1.</summary>
    public static LinearRgb FromXyz(Xyz xyz, ViewingLight light)
    {
        var (r, g, b) = ToLinear[(int)light].Times(xyz.X / 100, xyz.Y / 100, xyz.Z / 100);
        return new(r, g, b);
    }

    /// <summary>Tristimulus values, relative to the white of a light, of a display colour.</summary>
    public static Xyz ToXyz(LinearRgb rgb, ViewingLight light)
    {
        var (x, y, z) = LinearTo[(int)light].Times(rgb.R, rgb.G, rgb.B);
        return new(100 * x, 100 * y, 100 * z);
    }

    /// <summary>Lab D50 of a display colour.</summary>
    public static Lab ToLab(LinearRgb rgb) => CieLab.FromXyz(ToXyz(rgb, ViewingLight.D50), ViewingLight.D50);

    /// <summary>Linear sRGB of a Lab D50 colour; may leave 0..1.</summary>
    public static LinearRgb FromLab(Lab lab) => FromXyz(CieLab.ToXyz(lab, ViewingLight.D50), ViewingLight.D50);

    /// <summary>Code values 0..1 to linear light.</summary>
    public static LinearRgb Decode(double r, double g, double b) => new(Decode(r), Decode(g), Decode(b));

    private static Xyz Chromaticity(double x, double y) => new(100 * x / y, 100, 100 * (1 - x - y) / y);

    // Primaries of [IEC-61966-2-1] table 1, each scaled so that their sum is the white.
    private static Matrix3 Derive()
    {
        var (r, g, b) = (Chromaticity(0.64, 0.33), Chromaticity(0.30, 0.60), Chromaticity(0.15, 0.06));
        var primaries = new Matrix3(
            new[,]
            {
                { r.X / 100, g.X / 100, b.X / 100 },
                { r.Y / 100, g.Y / 100, b.Y / 100 },
                { r.Z / 100, g.Z / 100, b.Z / 100 },
            }
        );
        var (sr, sg, sb) = primaries.Inverse().Times(White.X / 100, White.Y / 100, White.Z / 100);
        return primaries.Times(Matrix3.Diagonal(sr, sg, sb));
    }
}
