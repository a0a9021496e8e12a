namespace ProofDesk.Printing.Presses;

/// <summary>
/// Effective tone from density, and the reflectance of a halftone. Densities need a pale ground; on dark cloth with a base use
/// the spot colour tone value instead.
/// </summary>
public static class ToneValue
{
    /// <summary>a = (1 - 10^-Dt) / (1 - 10^-Ds), [MURRAY-1936], the tone value of [ISO-12647-1]. Densities above the ground's.</summary>
    public static double MurrayDavies(double tintDensity, double solidDensity) =>
        (1 - Math.Pow(10, -tintDensity)) / (1 - Math.Pow(10, -solidDensity));

    /// <summary>The same with densities divided by n, [YULE-NIELSEN-1951] equation 2.</summary>
    public static double YuleNielsen(double tintDensity, double solidDensity, double n) =>
        MurrayDavies(tintDensity / n, solidDensity / n);

    /// <summary>
    /// R = ((1 - a) Rp^(1/n) + a Rs^(1/n))^n, [YULE-NIELSEN-1951]: n = 1 averages light ([MURRAY-1936]), n without bound is the
    /// geometric mean.
    /// </summary>
    public static double Reflectance(double ground, double solid, double coverage, double n) =>
        double.IsPositiveInfinity(n)
            ? Math.Pow(ground, 1 - coverage) * Math.Pow(solid, coverage)
            : Math.Pow((1 - coverage) * Math.Pow(ground, 1 / n) + coverage * Math.Pow(solid, 1 / n), n);

    /// <summary>
    /// A halftone of transparent ink on a ground in which light spreads further than the dots are wide, under a surface:
    /// [CLAPPER-YULE-1953], R = K rs + (1 - rs)(1 - ri) rg (1 - a + a t)^2 / (1 - ri rg (1 - a + a t^2)). The limit of long
    /// scattering for the other models.
    /// </summary>
    /// <param name="ground">rg, reflectance of the ground inside the surface.</param>
    /// <param name="ink">t, transmittance of the ink, one way.</param>
    /// <param name="outer">rs, surface reflection of the incoming light.</param>
    /// <param name="inner">ri, surface reflection of diffuse light from inside.</param>
    /// <param name="gloss">K, share of surface reflection that reaches the instrument.</param>
    public static double ClapperYule(
        double ground,
        double ink,
        double coverage,
        double outer,
        double inner,
        double gloss
    )
    {
        var once = 1 - coverage + coverage * ink;
        var twice = 1 - coverage + coverage * ink * ink;
        return gloss * outer + (1 - outer) * (1 - inner) * ground * once * once / (1 - inner * ground * twice);
    }
}
