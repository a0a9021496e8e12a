using System.Collections.Immutable;
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

    // Where no band scatters at all, S of our clear base, per um ([PHYSICS] 4.1).
    private const double Least = 2e-4;

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
        // b coth bSX, identical from either backing; the one the film changes more is the better conditioned.
        var c =
            Math.Abs(b) >= Math.Abs(w)
                ? (1 + overBlack * black - a * (overBlack + black)) / b
                : (1 + overWhite * white - a * (overWhite + white)) / w;
        var s = Math.Atanh(root / c) / (root * filmUm);
        // Noise in a film that nearly hides the ground can leave no solution at all.
        return s > 0 && double.IsFinite(s) ? new(a, s * (a - 1), s, a - root) : null;
    }

    /// <summary>All bands of measured reflectances; null where the film hides the ground.</summary>
    public static ImmutableArray<BandOptics?> Bands(
        Spectrum overBlack,
        Spectrum overWhite,
        Spectrum black,
        Spectrum white,
        double filmUm,
        OpticalConvention convention
    )
    {
        double In(Spectrum measured, int band) => Saunderson.Internal(measured[band], convention);
        return
        [
            .. Enumerable
                .Range(0, Spectrum.Bands)
                .Select(i => Band(In(overBlack, i), In(overWhite, i), In(black, i), In(white, i), filmUm)),
        ];
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
        var bands = Bands(overBlack, overWhite, black, white, filmUm, convention);
        if (bands.All(band => band is null))
            throw new ArgumentException(
                $"the film of {filmUm} um looks the same over black and over white, so its scattering cannot be found; measure a thinner film, one that hides 75 to 95 %"
            );
        return Filled(bands, overBlack, white, filmUm, convention);
    }

    /// <summary>
    /// Opaque bands from their neighbours, but never so weak that the card would have shown through; at least one band must be
    /// determined.
    /// </summary>
    internal static (Spectrum K, Spectrum S) Filled(
        ImmutableArray<BandOptics?> bands,
        Spectrum overBlack,
        Spectrum white,
        double filmUm,
        OpticalConvention convention
    )
    {
        var k = new double[Spectrum.Bands];
        var s = new double[Spectrum.Bands];
        for (var i = 0; i < Spectrum.Bands; i++)
        {
            if (bands[i] is { } known)
            {
                (k[i], s[i]) = (known.K, known.S);
                continue;
            }
            var ks = KubelkaMunk.Ks(Math.Clamp(Saunderson.Internal(overBlack[i], convention), 1e-4, 0.9999));
            // T^2 gw is about what the white card adds, and T about exp(-bSX) with b = sqrt((K/S)(K/S + 2)).
            var through = Math.Sqrt(Opaque / Saunderson.Internal(white[i], convention));
            var least = -Math.Log(through) / (Math.Sqrt(ks * (ks + 2)) * filmUm);
            s[i] = Math.Max(Neighbour(bands, i), least);
            k[i] = s[i] * ks;
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

    // Nearly clear film: K = -ln T / X and S = 2 K R0 / (1 - T^2) to first order ([PHYSICS] 4.3), up to a tenth too much K where S is
    // a tenth of K. The layer's own solution corrects both: K moves ln T alone, S moves R0 in proportion.
    private static BandOptics Clear(Layer layer, double filmUm)
    {
        var t = Math.Clamp(layer.T, 1e-9, 1);
        var k = -Math.Log(t) / filmUm;
        var s = t < 1 ? 2 * k * Math.Max(0, layer.R0) / (1 - t * t) : 0;
        for (var round = 0; round < 30 && s > 0; round++)
        {
            var now = KubelkaMunk.Layer(k, s, filmUm);
            k = Math.Max(0, k + Math.Log(now.T / t) / filmUm);
            s *= layer.R0 / now.R0;
        }
        var a = s > 0 ? 1 + k / s : double.PositiveInfinity;
        return new(a, k, s, s > 0 ? KubelkaMunk.Rinf(k / s) : 0);
    }

    private static double Neighbour(ImmutableArray<BandOptics?> bands, int i)
    {
        bool Known(int at) => bands[at] is { S: > 0 };
        var left = i;
        while (left >= 0 && !Known(left))
            left--;
        var right = i;
        while (right < bands.Length && !Known(right))
            right++;
        if (left < 0)
            return right < bands.Length ? bands[right]!.Value.S : Least;
        if (right == bands.Length)
            return bands[left]!.Value.S;
        var share = (double)(i - left) / (right - left);
        return Math.Exp((1 - share) * Math.Log(bands[left]!.Value.S) + share * Math.Log(bands[right]!.Value.S));
    }
}
