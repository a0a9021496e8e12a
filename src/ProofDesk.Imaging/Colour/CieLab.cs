namespace ProofDesk.Imaging.Colour;

/// <summary>CIELAB 1976, [CIE-15] section 8.2.1 (= [ISO-11664-4]), relative to the white of the viewing light.</summary>
public static class CieLab
{
    // Exact fractions of the standard: (6/29)^3 = 0.008856..., (29/3)^3 = 903.296...
    private const double Epsilon = 216.0 / 24389;
    private const double Kappa = 24389.0 / 27;

    public static Lab FromXyz(Xyz xyz, ViewingLight light) => FromXyz(xyz, Tristimulus.White(light));

    /// <summary>Lab relative to any white, as an independent source may use one that differs in the last digit.</summary>
    public static Lab FromXyz(Xyz xyz, Xyz white)
    {
        var fx = F(xyz.X / white.X);
        var fy = F(xyz.Y / white.Y);
        var fz = F(xyz.Z / white.Z);
        return new(116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz));
    }

    public static Xyz ToXyz(Lab lab, ViewingLight light)
    {
        var white = Tristimulus.White(light);
        var fy = (lab.L + 16) / 116;
        return new(white.X * InverseF(fy + lab.A / 500), white.Y * InverseF(fy), white.Z * InverseF(fy - lab.B / 200));
    }

    /// <summary>f(t) of the standard: a cube root with a straight piece near black.</summary>
    internal static double F(double t) => t > Epsilon ? Math.Cbrt(t) : (Kappa * t + 16) / 116;

    // The straight piece ends at f = 6/29.
    private static double InverseF(double f) => f > 6.0 / 29 ? f * f * f : (116 * f - 16) / Kappa;
}
