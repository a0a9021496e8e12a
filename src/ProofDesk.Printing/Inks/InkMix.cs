using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Two-constant mixing, [DUNCAN-1940]: K and S of a mixture are the sums of its parts. A load of 1 is a normally loaded
/// dispersion.
/// </summary>
internal static class InkMix
{
    /// <summary>Scale of K and S of film inks, per um, with the interface of <see cref="OpticalConvention.Film"/>, [PHYSICS] 4.</summary>
    internal const double FilmPerUm = 0.30;

    /// <summary>
    /// The same without an interface, inside the cloth. The same hiding needs 2.5 times less S when there is no surface
    /// that throws light back into the film, so data of the two kinds never meet in one stack.
    /// </summary>
    internal const double ClothPerUm = 0.12;

    // Without an interface nothing would keep a black film on a base above zero, nor a thick white one below the loss at
    // the surface. Allowed are the K/S of a surface that reflects 0.012 (the ki of the film inks),
    // (1 - 0.012)^2 / (2 x 0.012) = 40.67, down to that of the thickest white film, 0.90: 0.00556.
    private const double LargestKs = (1 - 0.012) * (1 - 0.012) / (2 * 0.012);
    private const double SmallestKs = (1 - 0.90) * (1 - 0.90) / (2 * 0.90);

    internal static (Spectrum K, Spectrum S) Film(ImmutableArray<(double Amount, Pigment Pigment)> loads) =>
        Sum(loads, FilmPerUm);

    internal static (Spectrum K, Spectrum S) InCloth(ImmutableArray<(double Amount, Pigment Pigment)> loads)
    {
        var (k, s) = Sum(loads, ClothPerUm);
        return (
            Spectrum.Combine(k, s, (ki, si) => Math.Max(ki, si * SmallestKs)),
            Spectrum.Combine(k, s, (ki, si) => Math.Max(si, ki / LargestKs))
        );
    }

    private static (Spectrum K, Spectrum S) Sum(ImmutableArray<(double Amount, Pigment Pigment)> loads, double perUm)
    {
        var k = Spectrum.Flat(0);
        var s = Spectrum.Flat(0);
        foreach (var (amount, pigment) in loads)
        {
            k = Spectrum.Combine(k, pigment.K, (sum, part) => sum + perUm * amount * part);
            s = Spectrum.Combine(s, pigment.S, (sum, part) => sum + perUm * amount * part);
        }
        return (k, s);
    }
}
