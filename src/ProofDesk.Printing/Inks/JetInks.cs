using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using static ProofDesk.Printing.Inks.Pigment;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Pigment inks of a garment printer's heads: few solids, so a full coverage of white dries to a tenth of a wet screen
/// print and colours to a micrometre; their pigment is the finer and stronger for it. Amounts and solids: common practice,
/// the middle of the ranges of [PHYSICS] 3.2 and 3.6.
/// </summary>
internal static class JetInks
{
    private const string Source =
        "default of the trade: generic pigments with assumed load on pretreated cotton, no measurement behind it; measure your own print to replace it";

    /// <summary>White in two to six passes' worth of drops.</summary>
    private const double WhiteMlPerM2 = 100;

    /// <summary>A colour at full coverage.</summary>
    private const double ColourMlPerM2 = 12;

    public static ImmutableArray<Ink> All() =>
        [
            // A dispersion for jetting carries more hiding per volume of dry film than a plastisol: 9 um read L* 82 and 18 um L* 88.
            Jet("jet-white", "White", InkRole.White, 0.15, 1.15, 0.9, WhiteMlPerM2, (1.6, White)),
            Jet("jet-cyan", "Cyan", InkRole.Colour, 0.1, 1.05, 0.3, ColourMlPerM2, (1.7, Blue), (0.36, Green)),
            Jet("jet-magenta", "Magenta", InkRole.Colour, 0.1, 1.05, 0.3, ColourMlPerM2, (10, Magenta)),
            Jet("jet-yellow", "Yellow", InkRole.Colour, 0.1, 1.05, 0.3, ColourMlPerM2, (12, Yellow)),
            Jet("jet-black", "Black", InkRole.Black, 0.1, 1.05, 0.3, ColourMlPerM2, (6, Black)),
        ];

    private static Ink Jet(
        string id,
        string name,
        InkRole role,
        double solids,
        double density,
        double surface,
        double mlPerM2,
        params ImmutableArray<(double Amount, Pigment Pigment)> loads
    )
    {
        var (k, s) = InkMix.Film(loads);
        return new(
            id,
            name,
            InkKind.Jet,
            role,
            k,
            s,
            OpticalConvention.Film,
            solids,
            density,
            surface,
            DataClass.C,
            Source
        )
        {
            JetMlPerM2 = mlPerM2,
        };
    }
}
