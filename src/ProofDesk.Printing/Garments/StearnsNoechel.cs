using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// Colour of a blend of fibres, [STEARNS-NOECHEL-1944]: an additive function of reflectance between adding K/S (far too
/// dark) and averaging areas (far too light). M = 0.14 for knits, between the classic 0.15 for wool and the 0.136 fitted
/// for viscose knit by [YANG-2021].
/// </summary>
public static class StearnsNoechel
{
    public const double M = 0.14;

    /// <summary>F(R) = (1 - R) / (M (R - 0.01) + 0.01).</summary>
    public static double F(double reflectance, double m = M) => (1 - reflectance) / (m * (reflectance - 0.01) + 0.01);

    /// <summary>R = (1 - 0.01 F (1 - M)) / (1 + M F), the exact inverse.</summary>
    public static double Reflectance(double f, double m = M) => (1 - 0.01 * f * (1 - m)) / (1 + m * f);

    /// <summary>The blend of two fibres, <paramref name="darkShare"/> of the weight being the dark one.</summary>
    public static Spectrum Blend(Spectrum pale, Spectrum dark, double darkShare, double m = M)
    {
        if (darkShare is not (>= 0 and <= 1))
            throw new ArgumentOutOfRangeException(
                nameof(darkShare),
                darkShare,
                $"the share of dark fibre is {darkShare}, a number from 0 to 1 is needed"
            );
        return Spectrum.Combine(pale, dark, (p, d) => Reflectance((1 - darkShare) * F(p, m) + darkShare * F(d, m), m));
    }
}
