using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Scattering of a saturated ink where its film hides the card, from opaque tints in white: each tint gives
/// (K/S)mix sum c S = sum c K, linear in the ink's K and S, [WALOWIT-1987]. The masstone gives K = (K/S) S, so one unknown
/// remains a band, found by least squares over the tints.
/// </summary>
internal static class TintLadder
{
    // Bands in which the tint is this near to the white say nothing about the ink.
    private const double LeastPull = 0.02;

    public static ImmutableArray<BandOptics?> Filled(
        ImmutableArray<BandOptics?> bands,
        Drawdown drawdown,
        Ink ink,
        OpticalConvention seen,
        ImmutableArray<string>.Builder said
    )
    {
        var white = InkLibrary.BaseWhite(ink.Kind);
        if (white.Convention != ink.Convention)
            return bands;
        // By volume of the film, [DUNCAN-1940]; the shop weighs.
        var tints = drawdown
            .Tints.Select(tint =>
            {
                var (own, rest) = (
                    tint.Percent / ink.DensityGramsPerCm3,
                    (100 - tint.Percent) / white.DensityGramsPerCm3
                );
                return (Share: own / (own + rest), tint.Reflectance);
            })
            .ToArray();
        double Ks(Spectrum measured, int band) =>
            KubelkaMunk.Ks(Math.Clamp(Saunderson.Internal(measured[band], seen), 1e-4, 0.9999));

        // The white in the tints is not our default white to the last percent: where the film is not opaque, K and S are known
        // and the tint tells how strong the white is instead.
        var strengths = new List<double>();
        for (var i = 0; i < Spectrum.Bands; i++)
            foreach (var (share, reflectance) in tints)
                if (bands[i] is { } known && Pull(white, i, Ks(reflectance, i)) is { } pull)
                {
                    var strength = share * (known.K - Ks(reflectance, i) * known.S) / ((1 - share) * pull);
                    if (strength is > 0.2 and < 5)
                        strengths.Add(strength);
                }
        strengths.Sort();
        var scale = strengths.Count > 0 ? strengths[strengths.Count / 2] : 1;

        var filled = bands.ToBuilder();
        var solved = new List<int>();
        for (var i = 0; i < Spectrum.Bands; i++)
        {
            if (bands[i] is not null)
                continue;
            var masstone = Ks(drawdown.OverBlack, i);
            double up = 0,
                down = 0;
            foreach (var (share, reflectance) in tints)
            {
                var mixed = Ks(reflectance, i);
                // Relative to the tint's K/S, so that dark tints do not outweigh the others.
                var (a, b) = (
                    share * (masstone - mixed) / mixed,
                    Pull(white, i, mixed) is { } pull ? (1 - share) * scale * pull / mixed : 0
                );
                (up, down) = (up + a * b, down + a * a);
            }
            var s = down > 0 ? up / down : 0;
            if (s <= 0)
                continue;
            filled[i] = new(1 + masstone, s * masstone, s, KubelkaMunk.Rinf(masstone));
            solved.Add(i);
        }
        if (solved.Count > 0)
            said.Add(
                FormattableString.Invariant(
                    $"the film hides the card at {MeasuredInk.Ranges([.. solved])}: scattering there is from {tints.Length} tint{(tints.Length == 1 ? "" : "s")} in white, taken as {scale:0.00} times our default white"
                )
            );
        return filled.ToImmutable();
    }

    // What the white contributes to the equation, (K/S)mix Sw - Kw, or null where it is too near to nothing.
    private static double? Pull(Ink white, int band, double mixed)
    {
        var pull = mixed * white.ScatteringPerUm[band] - white.AbsorptionPerUm[band];
        return pull > LeastPull * white.ScatteringPerUm[band] ? pull : null;
    }
}
