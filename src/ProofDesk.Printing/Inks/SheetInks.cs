using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using static ProofDesk.Printing.Inks.Pigment;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Sheets for cutting, in generic colours: a cast film so full of pigment that the cloth does not show through. Contrast
/// ratio above 0.98 at 85 um ([PHYSICS] 3.2, common practice); each has white in it, as real ones do, or the thin red
/// and yellow ones would let a dark cloth through.
/// </summary>
internal static class SheetInks
{
    /// <summary>Thickness of the usual sheet, um ([PHYSICS] 3.2: 80 to 100).</summary>
    public const double UsualUm = 85;

    private const string Source =
        "default of the trade: generic pigments with assumed load in a cast film, no measurement behind it; measure your own sheet to replace it";

    public static IEnumerable<Ink> All() =>
        [
            Sheet("white", "White", InkRole.White, (1.3, White), (0.00015, Black)),
            Sheet("black", "Black", InkRole.Black, (1.2, Black)),
            Sheet("grey", "Grey", InkRole.Colour, (0.9, White), (0.03, Black)),
            Sheet("yellow", "Yellow", InkRole.Colour, (4, Yellow), (0.9, White)),
            Sheet("gold-yellow", "Gold yellow", InkRole.Colour, (4, WarmYellow), (0.7, White)),
            Sheet("orange", "Orange", InkRole.Colour, (5, Orange), (0.8, White)),
            Sheet("red", "Red", InkRole.Colour, (6, Red), (0.3, Magenta), (0.5, White)),
            Sheet("maroon", "Maroon", InkRole.Colour, (5, Red), (1.2, Magenta), (0.25, Black), (0.15, White)),
            Sheet("pink", "Pink", InkRole.Colour, (0.5, Magenta), (1.2, White)),
            Sheet("purple", "Purple", InkRole.Colour, (0.9, Violet), (0.7, White)),
            Sheet("light-blue", "Light blue", InkRole.Colour, (0.07, Blue), (1.2, White)),
            Sheet("royal-blue", "Royal blue", InkRole.Colour, (1, Blue), (0.35, Violet), (0.35, White)),
            Sheet("navy", "Navy", InkRole.Colour, (0.9, Blue), (0.5, Violet), (0.05, Black), (0.1, White)),
            Sheet("green", "Green", InkRole.Colour, (1.4, Green), (0.7, Yellow), (0.5, White)),
            Sheet(
                "forest-green",
                "Forest green",
                InkRole.Colour,
                (1.2, Green),
                (0.8, WarmYellow),
                (0.15, Black),
                (0.15, White)
            ),
        ];

    // Density of the trade's sheets; nothing leaves them, so all of the volume stays.
    private static Ink Sheet(
        string colour,
        string name,
        InkRole role,
        params ImmutableArray<(double Amount, Pigment Pigment)> loads
    )
    {
        var (k, s) = InkMix.Film(loads);
        return new(
            "sheet-" + colour,
            name,
            InkKind.Sheet,
            role,
            k,
            s,
            OpticalConvention.Film,
            1,
            1.3,
            1,
            DataClass.C,
            Source
        )
        {
            SheetUm = UsualUm,
        };
    }
}
