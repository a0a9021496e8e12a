using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Dyes;

/// <summary>
/// Disperse dye of polyester goes into plastisol on it, slowly after the heat of the dryer: a white turns pink or grey
/// within hours to days ([PHYSICS] 3.7, common practice). Modelled as absorption that the films gain, K += c q, q the K/S of the dye in
/// the cloth. A blocking base below keeps most of it back.
/// </summary>
public static class Migration
{
    /// <summary>
    /// c without bound of time, per um of film and unit of K/S. A proposal, set so that print-flash-print white on a deep red
    /// polyester moves by about 9 dE00 in a week, what shops call ruined, and white on a charcoal of half polyester just visibly.
    /// </summary>
    public const double BleedPerUm = 2.5e-4;

    /// <summary>Days after which all but 1/e of it has come (a proposal: hours to days).</summary>
    public const double SettlingDays = 3;

    /// <summary>The prediction on ink lists.</summary>
    public const double UsualDays = 7;

    /// <summary>A change that is seen side by side.</summary>
    public const double Visible = 1;

    /// <summary>K/S of the dye that can wander, or null: polyester dyed as cloth, not fibres dyed in the melt as in heathers.</summary>
    public static Spectrum? WanderingKs(GarmentColour colour)
    {
        var named = colour.Dyes.Any(d => d.Dye.OnPolyester && d.Strength > 0);
        if (colour.HeatherFleck is not null && !named || colour.Dyes.Length > 0 && !named)
            return null;
        var undyed = ClothSpectra.WhitePolyester();
        var sum = Spectrum.Flat(0);
        foreach (var fibre in ClothFibre.Of(colour).Where(f => f.Kind == FibreKind.Polyester && f.Dyed))
        {
            var ks = Spectrum.Combine(
                fibre.Reflectance,
                undyed,
                (r, pale) => Math.Max(0, KubelkaMunk.Ks(Math.Clamp(r, 1e-4, 1)) - KubelkaMunk.Ks(pale))
            );
            sum = Spectrum.Combine(sum, ks, (all, part) => all + fibre.Share * part);
        }
        return sum.Values.ToArray().Max() > LeastKs ? sum : null;
    }

    /// <summary>
    /// The passes, bottom up, with their inks as they look after some days on this cloth; the same array when no dye
    /// reaches any of them.
    /// </summary>
    public static ImmutableArray<InkPass> After(GarmentColour colour, ImmutableArray<InkPass> passes, double days)
    {
        if (days <= 0 || !passes.Any(p => TakesDye(p.Ink)) || WanderingKs(colour) is not { } dye)
            return passes;
        var reaching = 1 - Math.Exp(-days / SettlingDays);
        var later = ImmutableArray.CreateBuilder<InkPass>(passes.Length);
        foreach (var pass in passes)
        {
            later.Add(TakesDye(pass.Ink) ? pass with { Ink = Tinted(pass.Ink, dye, reaching) } : pass);
            reaching *= 1 - pass.Ink.DyeBlocking;
        }
        return later.MoveToImmutable();
    }

    /// <summary>Films with a plasticiser in which disperse dyes dissolve; water-based binders hardly take any (common practice).</summary>
    public static bool TakesDye(Ink ink) => ink.Kind is InkKind.Plastisol or InkKind.Metallic or InkKind.Sheet;

    // White polyester of another maker is not dyed polyester.
    private const double LeastKs = 0.2;

    private static Ink Tinted(Ink ink, Spectrum dye, double reaching)
    {
        // As K and S of the ink are: with a surface in the calculation 2.5 times those without.
        var convention = ink.Convention == OpticalConvention.None ? InkMix.ClothPerUm / InkMix.FilmPerUm : 1;
        return ink with
        {
            AbsorptionPerUm = Spectrum.Combine(
                ink.AbsorptionPerUm,
                dye,
                (k, q) => k + convention * BleedPerUm * reaching * q
            ),
        };
    }
}
