using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Dyes;

/// <summary>
/// Dye sublimation: dye goes into polyester and nowhere else. K/S of the polyester rises, cotton stays as it is, the
/// cloth is their blend ([STEARNS-NOECHEL-1944]). So the ground always multiplies through, white is the cloth, and half a
/// polyester gives a muted print.
/// </summary>
public static class Sublimation
{
    /// <summary>Below this share of polyester the trade refuses (practice).</summary>
    public const double LeastPolyesterShare = 0.35;

    /// <summary>Below this lightness of the cloth a print can hardly be seen (practice: white or pastel only).</summary>
    public const double LeastGroundLightness = 70;

    // Of the tone curve: at full tone 1 - exp(-3) = 95 % of the endless amount, then rescaled to 1.
    private const double ToneSteepness = 3;

    /// <summary>Why this colour cannot be sublimated, or null.</summary>
    public static string? Refusal(GarmentColour colour)
    {
        var share = PolyesterShare(colour);
        if (share < LeastPolyesterShare)
            return FormattableString.Invariant(
                $"{colour.Name} is {100 * share:0} % polyester and sublimation dyes no other fibre; {100 * LeastPolyesterShare:0} % is the least, 65 % looks good: choose another method or another garment"
            );
        var lightness = CieLab.FromXyz(Tristimulus.Of(colour.Reflectance, ViewingLight.D50), ViewingLight.D50).L;
        return lightness < LeastGroundLightness
            ? FormattableString.Invariant(
                $"{colour.Name} has L* {lightness:0} and sublimation has no white, so the cloth shows through every colour; L* {LeastGroundLightness:0} is the least: choose a white or pastel garment or another method"
            )
            : null;
    }

    public static double PolyesterShare(GarmentColour colour) =>
        colour.Fibres.Where(f => f.Fibre == FibreKind.Polyester).Sum(f => f.Share);

    /// <summary>
    /// Amount of dye transferred for a tone of the print file, both 0..1: c = (1 - exp(-k D)) / (1 - exp(-k)). Twice the
    /// ink does not bring twice the dye; k = 3 is a proposal until a shop measures its ramp.
    /// </summary>
    public static double Amount(double tone) =>
        tone is >= 0 and <= 1
            ? (1 - Math.Exp(-ToneSteepness * tone)) / (1 - Math.Exp(-ToneSteepness))
            : throw new ArgumentOutOfRangeException(nameof(tone), tone, $"a tone is {tone}, 0 to 1 is needed");

    /// <summary>The cloth after the transfer of dyes in the given amounts (0..1 each; see <see cref="Amount"/>).</summary>
    public static Spectrum Cloth(GarmentColour colour, IReadOnlyList<(SublimationDye Dye, double Amount)> dyes)
    {
        var added = Spectrum.Flat(0);
        foreach (var (dye, amount) in dyes)
            added = Spectrum.Combine(added, dye.KsAtFull, (sum, ks) => sum + amount * ks);
        // Exactly the cloth where nothing is printed, not a blend that rounds.
        return dyes.All(d => d.Amount == 0) ? colour.Reflectance : Cloth(colour, added);
    }

    /// <summary>The cloth when its polyester has taken dyes that together add this K/S.</summary>
    public static Spectrum Cloth(GarmentColour colour, Spectrum addedKs) =>
        ClothFibre.Blend([
            .. ClothFibre
                .Of(colour)
                .Select(f => f.Kind == FibreKind.Polyester ? f with { Reflectance = Dyed(f.Reflectance, addedKs) } : f),
        ]);

    private static Spectrum Dyed(Spectrum fibre, Spectrum added) =>
        Spectrum.Combine(fibre, added, (r, ks) => KubelkaMunk.Rinf(KubelkaMunk.Ks(Math.Clamp(r, 1e-4, 1)) + ks));
}
