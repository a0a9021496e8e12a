using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Optical dot gain as an effective Yule-Nielsen n. Light that enters between two dots and comes out under one makes the
/// print darker; how far it travels, compared with the period of the screen, sets n ([YULE-NIELSEN-1951], [ARNEY-1995]).
/// The table is computed from an exponential point spread function with transparent ink; a test computes it again.
/// </summary>
public static class OpticalGain
{
    // Scattering length over halftone period, and the n that fits coverages 0.1 to 0.9.
    private static readonly (double Ratio, double N)[] Table =
    [
        (0, 1.00),
        (0.01, 1.04),
        (0.02, 1.08),
        (0.05, 1.20),
        (0.10, 1.42),
        (0.15, 1.60),
        (0.20, 1.74),
        (0.30, 1.88),
        (0.50, 1.97),
        (1, 2.00),
    ];

    /// <summary>
    /// n of halftones of this ruling on the bare cloth, or on a white base of <paramref name="baseInk"/>.
    /// </summary>
    public static double YuleNielsenN(Ground ground, Ink? baseInk, double linesPerInch)
    {
        if (linesPerInch <= 0)
            return 1;
        var length = baseInk is null ? ClothLengthUm(ground) : BaseLengthUm(baseInk);
        return N(length / (25400 / linesPerInch));
    }

    /// <summary>n for a ratio of scattering length to halftone period; straight lines between the computed points.</summary>
    public static double N(double lengthOverPeriod)
    {
        for (var i = 1; i < Table.Length; i++)
        {
            var (x0, n0) = Table[i - 1];
            var (x1, n1) = Table[i];
            if (lengthOverPeriod <= x1)
                return n0 + (n1 - n0) * Math.Max(0, lengthOverPeriod - x0) / (x1 - x0);
        }
        return 2;
    }

    /// <summary>
    /// How far light travels sideways in the cloth, um: the scattering length 1/S, or, where the dye swallows it
    /// earlier, the depth 1/(b S) at which the two-flux solution has fallen to 1/e, b = sqrt(K/S (K/S + 2)). On black cloth the second
    /// is a few um, so nothing is gained there.
    /// </summary>
    public static double ClothLengthUm(Ground ground)
    {
        var ks = KubelkaMunk.Ks(Math.Clamp(Luminance(ground.Colour.Reflectance), 1e-4, 1));
        return LengthUm(ground.Garment.Knit.ScatteringPerUm, ks);
    }

    // S at 550 nm without an interface, the convention of the cloth's own S.
    private static double BaseLengthUm(Ink ink)
    {
        const int Band550 = (550 - Spectrum.FirstNanometres) / Spectrum.StepNanometres;
        var scale = ink.Convention == OpticalConvention.None ? 1 : InkMix.ClothPerUm / InkMix.FilmPerUm;
        return LengthUm(
            scale * ink.ScatteringPerUm[Band550],
            ink.AbsorptionPerUm[Band550] / ink.ScatteringPerUm[Band550]
        );
    }

    private static double LengthUm(double scatterPerUm, double ks) =>
        Math.Min(1, 1 / Math.Sqrt(ks * (ks + 2))) / scatterPerUm;

    private static double Luminance(Spectrum reflectance) => Tristimulus.Of(reflectance, ViewingLight.D50).Y / 100;
}
