using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Dyes;

/// <summary>
/// A discharge print takes dye out of the cellulose: of each dye a share is left, K/S of the fibre falls to that, plus a little
/// yellowing. Polyester keeps its dye. What is printed with it (pigment) then sits in the paler cloth, <see cref="InkOnCloth"/>.
/// </summary>
public static class Discharge
{
    /// <summary>What discharging adds to the K/S of undyed cotton: the print is off-white, not white ([PHYSICS] 1.9, a proposal).</summary>
    public const double YellowingKs = 0.01;

    /// <summary>
    /// Wet deposit, cm3/m2, at which a third (1/e) of what could go is still there (a proposal). The first proposal was 10
    /// ([PHYSICS] 1.9); with it no mesh in use would discharge a black as far as its dye allows, and practice does so with
    /// 43 to 61 threads per cm (27 to 39 cm3/m2). With 3.5 these leave next to nothing more than the dye itself does, and finer
    /// meshes (77: 20, 120: 13 cm3/m2) discharge visibly less.
    /// </summary>
    public const double ReachCm3PerM2 = 3.5;

    /// <summary>Below this share of cellulose the print is hardly paler than the cloth (practice).</summary>
    public const double LeastCelluloseShare = 0.35;

    /// <summary>Why this colour cannot be discharged, in words of the trade, and what to do; or null.</summary>
    public static (string What, string NextStep)? Refusal(GarmentColour colour)
    {
        var name = colour.Name.ToLowerInvariant();
        var cellulose = CelluloseShare(colour);
        if (cellulose < LeastCelluloseShare)
            return (
                FormattableString.Invariant(
                    $"{name} is {100 * cellulose:0} % cotton or viscose and discharge reaches no other fibre; {100 * LeastCelluloseShare:0} % is the least"
                ),
                "choose another method or another garment"
            );
        var dyes = CelluloseDyes(colour);
        if (dyes.Length == 0)
            return (
                $"{name} names no dye that discharge could take out",
                "name the dyes of its cotton in the garment file, or choose another method"
            );
        if (dyes.MinBy(d => d.ResidualShare) is { ResidualShare: > 0.5 } best)
            return (
                FormattableString.Invariant(
                    $"{name} is dyed with {best.Dye.Name}, of which discharge leaves {100 * best.ResidualShare:0} %"
                ),
                "choose another method or a garment that the maker calls dischargeable"
            );
        return null;
    }

    /// <summary>Share of the weight that discharge can reach.</summary>
    public static double CelluloseShare(GarmentColour colour) =>
        ClothFibre.Of(colour).Where(f => f.IsCellulose).Sum(f => f.Share);

    /// <summary>The dyes in its cotton or viscose.</summary>
    public static DyeShare[] CelluloseDyes(GarmentColour colour) =>
        [.. colour.Dyes.Where(d => !d.Dye.OnPolyester && d.Strength > 0)];

    /// <summary>Whether there is a dyed fibre of cellulose whose dyes are known.</summary>
    public static bool Reaches(GarmentColour colour) =>
        CelluloseDyes(colour).Length > 0 && ClothFibre.Of(colour).Any(f => f is { IsCellulose: true, Dyed: true });

    /// <summary>
    /// Share of a dye that is left: r + (1 - r) exp(-V/V0), r what the strongest discharge leaves, V the wet deposit.
    /// </summary>
    public static double Residual(double residualShare, double wetDepositCm3PerM2) =>
        residualShare + (1 - residualShare) * Math.Exp(-wetDepositCm3PerM2 / ReachCm3PerM2);

    /// <summary>One fibre after the print.</summary>
    /// <param name="strength">1 as the dyes say; 2 leaves twice as much of each dye, for the range of a proof.</param>
    public static Spectrum Fibre(
        IReadOnlyList<DyePart> dyes,
        Spectrum undyed,
        double wetDepositCm3PerM2,
        double strength = 1
    )
    {
        var ks = undyed.Map(r => KubelkaMunk.Ks(r) + YellowingKs * (1 - Math.Exp(-wetDepositCm3PerM2 / ReachCm3PerM2)));
        foreach (var dye in dyes)
        {
            var left = Residual(Math.Min(1, dye.ResidualShare * strength), wetDepositCm3PerM2);
            ks = Spectrum.Combine(ks, dye.Ks, (sum, part) => sum + left * part);
        }
        return ks.Map(KubelkaMunk.Rinf);
    }

    /// <summary>The cloth under a discharge print: dyed cellulose discharged, every other fibre as it was.</summary>
    public static Spectrum Cloth(GarmentColour colour, double wetDepositCm3PerM2, double strength = 1) =>
        ClothFibre.Blend([
            .. ClothFibre
                .Of(colour)
                .Select(f =>
                    f.IsCellulose && f.Dyed && ClothDyes.Of(colour, f.Reflectance) is { Length: > 0 } dyes
                        ? f with
                        {
                            Reflectance = Fibre(dyes, Undyed(f.Reflectance), wetDepositCm3PerM2, strength),
                        }
                        : f
                ),
        ]);

    // Where an assumed spectrum is paler than our undyed cotton there is no dye in it, and it stays so.
    private static Spectrum Undyed(Spectrum dyed) => Spectrum.Combine(ClothSpectra.UndyedCotton(), dyed, Math.Max);

    /// <summary>The ground that pigment printed with the discharge lies in; its brightener is not carried over.</summary>
    public static Ground Ground(Ground ground, double wetDepositCm3PerM2, double strength = 1) =>
        ground with
        {
            Colour = ground.Colour with
            {
                Reflectance = Cloth(ground.Colour, wetDepositCm3PerM2, strength),
                BrightenerPeak = 0,
            },
        };
}
