using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Inks;

/// <summary>K and S per um and what they were found from, one band.</summary>
public readonly record struct BandOptics(double A, double K, double S, double Rinf);

/// <summary>
/// A user's own ink: one film of known thickness, measured over a black and a white ground, gives K and S. The algebra
/// inverts the two-flux solution of [KUBELKA-1948] for two backings, as [NOBBS-1985] reviews it. Reflectances are those
/// inside the surface; convert measured ones first with <see cref="Saunderson.Internal"/>.
/// </summary>
public static class TwoBackgrounds
{
    // Two backings that differ by less than this (three standard deviations of a good instrument) look the same: opaque.
    private const double Opaque = 0.006;

    // Over black a clear film reflects next to nothing.
    private const double Transparent = 0.02;

    /// <summary>One band; null where the film hides the ground, so that S is not determined.</summary>
    /// <param name="overBlack">Rb.</param>
    /// <param name="overWhite">Rw.</param>
    /// <param name="black">gb, the bare black ground.</param>
    /// <param name="white">gw, the bare white ground.</param>
    public static BandOptics? Band(double overBlack, double overWhite, double black, double white, double filmUm)
    {
        if (overWhite - overBlack < Opaque)
            return null;
        // a = [(1 + Rb gb)(Rw - gw) - (1 + Rw gw)(Rb - gb)] / [(Rb + gb)(Rw - gw) - (Rw + gw)(Rb - gb)]
        var (b, w) = (overBlack - black, overWhite - white);
        var a =
            ((1 + overBlack * black) * w - (1 + overWhite * white) * b)
            / ((overBlack + black) * w - (overWhite + white) * b);
        var over = OverNothing(overBlack, overWhite, black, white);
        if (over.R0 < Transparent)
            return Clear(over, filmUm);
        // Noise can push a film without absorption below a = 1.
        if (a <= 1)
            a = 1 + 1e-6;
        var root = Math.Sqrt(a * a - 1);
        // b coth bSX, identical from either backing; the black one is the better conditioned.
        var c = (1 + overBlack * black - a * (overBlack + black)) / (overBlack - black);
        var s = Math.Atanh(root / c) / (root * filmUm);
        return new(a, s * (a - 1), s, a - root);
    }

    /// <summary>
    /// The whole spectrum. Where the film hides the ground, S is taken from its determined neighbours (straight in the logarithm)
    /// and K from Rinf; a second, thinner film or a tint in white measures such bands properly.
    /// </summary>
    /// <exception cref="ArgumentException">The film hides the ground everywhere.</exception>
    public static (Spectrum K, Spectrum S) Spectra(
        Spectrum overBlack,
        Spectrum overWhite,
        Spectrum black,
        Spectrum white,
        double filmUm,
        OpticalConvention convention
    )
    {
        double In(Spectrum measured, int band) => Saunderson.Internal(measured[band], convention);
        var bands = new BandOptics?[Spectrum.Bands];
        for (var i = 0; i < Spectrum.Bands; i++)
            bands[i] = Band(In(overBlack, i), In(overWhite, i), In(black, i), In(white, i), filmUm);
        if (Array.TrueForAll(bands, band => band is null))
            throw new ArgumentException(
                $"the film of {filmUm} um looks the same over black and over white, so its scattering cannot be found; measure a thinner film, one that hides 75 to 95 %"
            );

        var k = new double[Spectrum.Bands];
        var s = new double[Spectrum.Bands];
        for (var i = 0; i < Spectrum.Bands; i++)
        {
            s[i] = bands[i]?.S ?? Neighbour(bands, i);
            k[i] = bands[i]?.K ?? s[i] * KubelkaMunk.Ks(Math.Max(1e-4, In(overBlack, i)));
        }
        return (Spectrum.Of(k), Spectrum.Of(s));
    }

    // R(g) = R0 + T^2 g / (1 - R0 g) solved for R0 and T from two backings: R0 is the root of a quadratic.
    private static Layer OverNothing(double rb, double rw, double gb, double gw)
    {
        if (gb == 0)
            return new(rb, Math.Sqrt(Math.Max(0, (rw - rb) * (1 - rb * gw) / gw)));
        // (Rb - R0)(1 - R0 gb)/gb = (Rw - R0)(1 - R0 gw)/gw: the R0^2 terms cancel, a straight line remains.
        var r0 = (rb * gw - rw * gb) / (gw - gb + gb * gw * (rb - rw));
        return new(r0, Math.Sqrt(Math.Max(0, (rw - r0) * (1 - r0 * gw) / gw)));
    }

    // Nearly clear film: K = -ln T / X, S = 2 K R0 / (1 - T^2), the first order of the solution in S.
    private static BandOptics Clear(Layer layer, double filmUm)
    {
        var k = -Math.Log(Math.Clamp(layer.T, 1e-9, 1)) / filmUm;
        var s = layer.T < 1 ? 2 * k * Math.Max(0, layer.R0) / (1 - layer.T * layer.T) : 0;
        var a = s > 0 ? 1 + k / s : double.PositiveInfinity;
        return new(a, k, s, s > 0 ? KubelkaMunk.Rinf(k / s) : 0);
    }

    private static double Neighbour(BandOptics?[] bands, int i)
    {
        var left = Array.FindLastIndex(bands, i, i + 1, band => band is { S: > 0 });
        var right = Array.FindIndex(bands, i, band => band is { S: > 0 });
        if (left < 0)
            return bands[right]!.Value.S;
        if (right < 0)
            return bands[left]!.Value.S;
        var share = (double)(i - left) / (right - left);
        return Math.Exp((1 - share) * Math.Log(bands[left]!.Value.S) + share * Math.Log(bands[right]!.Value.S));
    }
}
