using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using static ProofDesk.Printing.Inks.Pigment;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Discharge inks: a base that takes dye out of cellulose, alone or with pigment. They sit in the cloth as water-based inks do,
/// with the same pigment loads; three quarters of those, because the coarser mesh of a discharge print leaves a third more.
/// </summary>
public static class DischargeInks
{
    /// <summary>What every ink list says beside a discharge ink.</summary>
    public const string Caution =
        "activator is stirred in just before the run and the mix keeps only hours; it gives off fumes, most of all in the dryer: extract the air and protect lungs and skin; amounts, heat, pot life and waste as on the supplier's sheet and by local rules; test-wash";

    private const string Source =
        "default of the trade: generic pigments with assumed load in a discharge base, no textile measurement behind it; measure your own ink to replace it";

    /// <summary>Thinner pigment than the wet volume suggests: most of it is base and water, gone after the wash (middle of practice).</summary>
    private const double VolumeSolids = 0.25;

    /// <summary>No pigment: what is seen is the cloth without its dye. Under plastisol it replaces the white base.</summary>
    public static Ink Base { get; } =
        Of("discharge-base", "Discharge base", InkRole.Colour, Spectrum.Flat(1e-6), Spectrum.Flat(1e-6)) with
        {
            VolumeSolids = 0,
            DensityGramsPerCm3 = 1.02,
        };

    public static ImmutableArray<Ink> All { get; } =
    [
        Base,
        Pigmented("discharge-white", "Discharge white", InkRole.White, (1, White)),
        Pigmented("discharge-black", "Black", InkRole.Black, (1.5, Black)),
        Pigmented("discharge-process-yellow", "Process yellow", InkRole.Colour, (2.1, Yellow)),
        Pigmented("discharge-process-magenta", "Process magenta", InkRole.Colour, (2.6, Magenta)),
        Pigmented("discharge-process-cyan", "Process cyan", InkRole.Colour, (0.53, Blue), (0.11, Green)),
        Pigmented("discharge-bright-yellow", "Bright yellow", InkRole.Colour, (2.6, Yellow)),
        Pigmented("discharge-warm-yellow", "Warm yellow", InkRole.Colour, (2.6, WarmYellow)),
        Pigmented("discharge-orange", "Orange", InkRole.Colour, (3.4, Orange)),
        Pigmented("discharge-red", "Red", InkRole.Colour, (3.75, Red)),
        Pigmented("discharge-fuchsia", "Fuchsia", InkRole.Colour, (3.4, Magenta)),
        Pigmented("discharge-violet", "Violet", InkRole.Colour, (1.2, Violet)),
        Pigmented("discharge-blue", "Blue", InkRole.Colour, (0.9, Blue)),
        Pigmented("discharge-royal-blue", "Royal blue", InkRole.Colour, (1.1, Blue), (0.53, Violet)),
        Pigmented("discharge-green", "Green", InkRole.Colour, (1.35, Green), (0.6, Yellow)),
        Pigmented("discharge-mid-grey", "Mid grey", InkRole.Colour, (0.6, White), (0.09, Black)),
        Pigmented("discharge-navy", "Navy", InkRole.Colour, (1.05, Blue), (0.6, Violet), (0.45, Black)),
        Pigmented("discharge-maroon", "Maroon", InkRole.Colour, (3, Red), (0.45, Magenta), (0.38, Black)),
    ];

    private static Ink Pigmented(
        string id,
        string name,
        InkRole role,
        params ImmutableArray<(double Amount, Pigment Pigment)> loads
    )
    {
        var (k, s) = InkMix.InCloth(loads);
        return Of(id, name, role, k, s);
    }

    private static Ink Of(string id, string name, InkRole role, Spectrum k, Spectrum s) =>
        new(
            id,
            name,
            InkKind.Discharge,
            role,
            k,
            s,
            OpticalConvention.None,
            VolumeSolids,
            1.05,
            0.1,
            DataClass.C,
            Source
        )
        {
            Caution = Caution,
        };
}
