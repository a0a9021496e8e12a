using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The surface between air and a film of index about 1.5, [SAUNDERSON-1942]: from the reflectance inside the film to the
/// one an instrument sees and back. Ki is the share of surface reflection that reaches the instrument: K1 when specular
/// light is included, 0 for 45/0 on gloss.
/// </summary>
public static class Saunderson
{
    /// <summary>Rm = ki + (1 - k1)(1 - k2) Ri / (1 - k2 Ri).</summary>
    public static double Measured(double inside, OpticalConvention c) =>
        c.Ki + (1 - c.K1) * (1 - c.K2) * inside / (1 - c.K2 * inside);

    /// <summary>
    /// Ri = (Rm - ki) / ((1 - k1)(1 - k2) + k2 (Rm - ki)). A cloth darker than ki has no solution; it is taken as
    /// reflecting nothing from inside.
    /// </summary>
    public static double Internal(double measured, OpticalConvention c)
    {
        var m = Math.Max(0, measured - c.Ki);
        return m / ((1 - c.K1) * (1 - c.K2) + c.K2 * m);
    }
}
