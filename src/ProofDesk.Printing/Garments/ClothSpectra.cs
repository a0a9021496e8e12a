using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Garments;

/// <summary>A dye in the cloth: its K/S at full strength and how much of it there is.</summary>
public sealed record Dye(Spectrum Ks, double Amount);

/// <summary>
/// Reflectance of unprinted cloth from what is known about it. Dyes add their K/S to that of the undyed fibre and the
/// cloth is opaque: the single-constant theory of [KUBELKA-MUNK-1931] as dye houses use it. Blends of fibres do not add
/// this way; they go through <see cref="StearnsNoechel"/>.
/// </summary>
public static class ClothSpectra
{
    /// <summary>
    /// Bleached cotton without brightener: K/S = 0.0095 + 0.085 exp(-(nm - 380)/35), Lab D50 94.6, -0.8, 3.5. A proposal,
    /// not a measurement (data class C).
    /// </summary>
    public static Spectrum UndyedCotton() => FromKs(Spectrum.From(CottonKs));

    /// <summary>
    /// Cotton that is not bleached, the trade's "natural": more of the yellow of the fibre's own wax and pectin. Amount 1 gives
    /// a cream cloth. A proposal (data class C).
    /// </summary>
    public static Spectrum NaturalCotton(double amount = 1) =>
        FromKs(Spectrum.From(nm => CottonKs(nm) + amount * (0.01 + 0.11 * Math.Exp(-(nm - 380) / 70))));

    /// <summary>White polyester: K/S = 0.004 + 0.03 exp(-(nm - 380)/40), Lab D50 96.4, -0.4, 2.4 (data class C).</summary>
    public static Spectrum WhitePolyester() => FromKs(Spectrum.From(nm => 0.004 + 0.03 * Math.Exp(-(nm - 380) / 40)));

    /// <summary>Bleached cloth of these fibres. Viscose is taken to be as white as cotton (a proposal, data class C).</summary>
    public static Spectrum Undyed(ImmutableArray<FibreShare> fibres)
    {
        var undyed = fibres
            .Where(f => f.Share > 0)
            .Select(f => f.Fibre == FibreKind.Polyester ? WhitePolyester() : UndyedCotton())
            .ToArray();
        // One kind of fibre is exactly itself, not a blend that rounds.
        return fibres.Count(f => f.Share > 0) == 1
            ? undyed[0]
            : ClothFibre.Blend([
                .. fibres.Where(f => f.Share > 0).Zip(undyed, (f, r) => new ClothFibre(f.Fibre, f.Share, r, false)),
            ]);
    }

    /// <summary>Undyed cotton with dyes in it.</summary>
    public static Spectrum DyedCotton(ImmutableArray<Dye> dyes) =>
        FromKs(
            dyes.Aggregate(
                Spectrum.From(CottonKs),
                (ks, dye) => Spectrum.Combine(ks, dye.Ks, (a, b) => a + dye.Amount * b)
            )
        );

    /// <summary>A smooth spectrum of the given colour; the spectrum is assumed, the colour is met.</summary>
    /// <exception cref="ArgumentException">No reflectance between 0 and 1 has that colour.</exception>
    public static Spectrum FromLab(Lab lab, ViewingLight light = ViewingLight.D50)
    {
        var spectrum = SmoothSpectrum.WithColour(lab, light);
        var reached = CieLab.FromXyz(Tristimulus.Of(spectrum, light), light);
        var off = Ciede2000.Difference(lab, reached);
        if (off > 0.5)
            throw new ArgumentException(
                FormattableString.Invariant(
                    $"no cloth has the colour Lab {lab.L:0.0} {lab.A:0.0} {lab.B:0.0}: the nearest smooth reflectance is {off:0.0} dE00 away; check the sign of a* and b*"
                )
            );
        return spectrum;
    }

    /// <summary>A smooth spectrum of an sRGB colour given as code values 0..1.</summary>
    public static Spectrum FromSrgb(double r, double g, double b) => FromLab(Srgb.ToLab(Srgb.Decode(r, g, b)));

    /// <summary>The K/S that dyeing added: what discharge takes out again. Never negative.</summary>
    public static Spectrum DyeKs(Spectrum dyed) =>
        Spectrum.Combine(
            dyed,
            Spectrum.From(CottonKs),
            (r, undyed) => Math.Max(0, KubelkaMunk.Ks(Math.Clamp(r, 1e-4, 1)) - undyed)
        );

    /// <summary>Heather: pale fibre with a share of dark fibre by weight.</summary>
    public static Spectrum Heather(Spectrum pale, Spectrum dark, double darkShare) =>
        StearnsNoechel.Blend(pale, dark, darkShare);

    private static double CottonKs(double nm) => 0.0095 + 0.085 * Math.Exp(-(nm - 380) / 35);

    private static Spectrum FromKs(Spectrum ks) => ks.Map(KubelkaMunk.Rinf);
}
