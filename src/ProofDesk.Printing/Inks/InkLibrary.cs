using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using static ProofDesk.Printing.Inks.Pigment;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// The inks a shop starts with: no maker's ink, but plausible ones mixed from generic pigments ([PHYSICS] 4). A
/// shop replaces them by its own measured over black and over white.
/// </summary>
public static class InkLibrary
{
    private const string PlastisolSource =
        "default of the trade: generic pigments with assumed load, spectra fitted to published artist paints; measure your own ink over black and white to replace it";

    private const string WaterBasedSource =
        "default of the trade: generic pigments with assumed load inside the cloth, no textile measurement behind it; measure your own ink to replace it";

    /// <summary>All default inks: plastisol, water-based with its high-solids white, discharge; sheets to cut; dyes.</summary>
    public static ImmutableArray<Ink> Default { get; } =
    [
        .. PlastisolInks(),
        .. WaterBasedInks(),
        .. DischargeInks.All,
        .. MetallicInks.All,
        .. FoilInks.All,
        .. SheetInks.All(),
        .. JetInks.All(),
        .. DyeInks.All,
    ];

    /// <summary>
    /// A low-bleed grey that runs first on dyed polyester and keeps its dye from the films above (common practice; that it
    /// lets 3 % through is a proposal). Never chosen for a colour of the art.
    /// </summary>
    public static Ink BlockingBase { get; } =
        Plastisol("blocking-base", "Blocking base, low bleed", InkRole.Colour, (0.85, White), (0.012, Black)) with
        {
            DyeBlocking = 0.97,
        };

    /// <summary>A clear base, to print under or to thin with: hardly any K or S ([PHYSICS] 4). Never chosen for a colour.</summary>
    public static Ink ClearBase { get; } =
        Plastisol("clear-base", "Clear base", InkRole.Colour) with
        {
            AbsorptionPerUm = Spectrum.Flat(2e-5),
            ScatteringPerUm = Spectrum.Flat(2e-4),
            Wetting = 0.2,
        };

    /// <summary>The ink with this identifier, or null.</summary>
    public static Ink? Find(string id) => Default.Add(BlockingBase).Add(ClearBase).FirstOrDefault(ink => ink.Id == id);

    /// <summary>The default inks of one kind.</summary>
    public static ImmutableArray<Ink> OfKind(InkKind kind) => [.. Default.Where(ink => ink.Kind == kind)];

    /// <summary>The usual white base for colours of this kind: high-solids white under water-based colours.</summary>
    public static Ink BaseWhite(InkKind colours) =>
        Find(
            colours switch
            {
                InkKind.Plastisol => "white",
                InkKind.Jet => "jet-white",
                _ => "wb-white-base",
            }
        )!;

    private static IEnumerable<Ink> PlastisolInks() =>
        [
            Plastisol("white", "White", InkRole.White, (1, White)),
            Plastisol("black", "Black", InkRole.Black, (1, Black)),
            Plastisol("process-yellow", "Process yellow", InkRole.Colour, (1, Yellow)),
            Plastisol("process-magenta", "Process magenta", InkRole.Colour, (0.9, Magenta)),
            Plastisol("process-cyan", "Process cyan", InkRole.Colour, (0.14, Blue), (0.03, Green)),
            Plastisol("bright-yellow", "Bright yellow", InkRole.Colour, (1.2, Yellow), (0.06, White)),
            Plastisol("warm-yellow", "Warm yellow", InkRole.Colour, (1.1, WarmYellow), (0.06, White)),
            Plastisol("orange", "Orange", InkRole.Colour, (1.2, Orange), (0.03, White)),
            Plastisol("red", "Red", InkRole.Colour, (1.2, Red), (0.02, White)),
            Plastisol("fuchsia", "Fuchsia", InkRole.Colour, (1.2, Magenta), (0.04, White)),
            Plastisol("violet", "Violet", InkRole.Colour, (0.45, Violet), (0.08, White)),
            Plastisol("royal-blue", "Royal blue", InkRole.Colour, (0.5, Blue), (0.15, Violet), (0.06, White)),
            Plastisol("green", "Green", InkRole.Colour, (0.6, Green), (0.25, Yellow), (0.04, White)),
            Plastisol("mid-grey", "Mid grey", InkRole.Colour, (0.8, White), (0.02, Black)),
            // Mixtures of the above, invented for the demo shop.
            Plastisol("navy", "Navy", InkRole.Colour, (0.5, Blue), (0.22, Violet), (0.12, Black), (0.04, White)),
            Plastisol("maroon", "Maroon", InkRole.Colour, (1.0, Red), (0.15, Magenta), (0.1, Black), (0.02, White)),
            Plastisol(
                "forest-green",
                "Forest green",
                InkRole.Colour,
                (0.6, Green),
                (0.35, WarmYellow),
                (0.08, Black),
                (0.04, White)
            ),
            Plastisol("light-blue", "Light blue", InkRole.Colour, (0.05, Blue), (0.55, White)),
            Plastisol("natural", "Natural", InkRole.Colour, (0.9, White), (0.012, WarmYellow), (0.0012, Black)),
            // More pigment and white in it, for dark garments without a base.
            Plastisol("opaque-yellow", "Opaque yellow", InkRole.Colour, (1.8, Yellow), (0.25, White)),
            Plastisol("opaque-orange", "Opaque orange", InkRole.Colour, (1.8, Orange), (0.2, White)),
            Plastisol("opaque-red", "Opaque red", InkRole.Colour, (1.8, Red), (0.15, White)),
            Plastisol(
                "opaque-royal-blue",
                "Opaque royal blue",
                InkRole.Colour,
                (0.75, Blue),
                (0.22, Violet),
                (0.25, White)
            ),
            Plastisol("opaque-green", "Opaque green", InkRole.Colour, (0.9, Green), (0.38, Yellow), (0.2, White)),
        ];

    // Loads are per um of pigment-equivalent film (about 5 um a pass): three to four times those of a plastisol film, because the
    // fibres' own scattering thins the colour down. Chosen so that a pass on white cloth is a little paler than plastisol.
    private static IEnumerable<Ink> WaterBasedInks() =>
        [
            HighSolidsWhite(),
            WaterBased("wb-white", "White, thin", InkRole.White, (1, White)),
            WaterBased("wb-black", "Black", InkRole.Black, (2, Black)),
            WaterBased("wb-process-yellow", "Process yellow", InkRole.Colour, (2.8, Yellow)),
            WaterBased("wb-process-magenta", "Process magenta", InkRole.Colour, (3.5, Magenta)),
            WaterBased("wb-process-cyan", "Process cyan", InkRole.Colour, (0.7, Blue), (0.15, Green)),
            WaterBased("wb-bright-yellow", "Bright yellow", InkRole.Colour, (3.5, Yellow)),
            WaterBased("wb-warm-yellow", "Warm yellow", InkRole.Colour, (3.5, WarmYellow)),
            WaterBased("wb-orange", "Orange", InkRole.Colour, (4.5, Orange)),
            WaterBased("wb-red", "Red", InkRole.Colour, (5, Red)),
            WaterBased("wb-fuchsia", "Fuchsia", InkRole.Colour, (4.5, Magenta)),
            WaterBased("wb-violet", "Violet", InkRole.Colour, (1.6, Violet)),
            WaterBased("wb-blue", "Blue", InkRole.Colour, (1.2, Blue)),
            WaterBased("wb-royal-blue", "Royal blue", InkRole.Colour, (1.5, Blue), (0.7, Violet)),
            WaterBased("wb-green", "Green", InkRole.Colour, (1.8, Green), (0.8, Yellow)),
            WaterBased("wb-mid-grey", "Mid grey", InkRole.Colour, (0.8, White), (0.12, Black)),
            WaterBased("wb-navy", "Navy", InkRole.Colour, (1.4, Blue), (0.8, Violet), (0.6, Black)),
            WaterBased("wb-maroon", "Maroon", InkRole.Colour, (4, Red), (0.6, Magenta), (0.5, Black)),
            WaterBased("wb-forest-green", "Forest green", InkRole.Colour, (1.8, Green), (1, WarmYellow), (0.5, Black)),
        ];

    // Solids and densities: middle of the ranges of common practice.
    private static Ink Plastisol(
        string id,
        string name,
        InkRole role,
        params ImmutableArray<(double Amount, Pigment Pigment)> loads
    )
    {
        var (k, s) = InkMix.Film(loads);
        var density = role == InkRole.White ? 1.4 : 1.15;
        return new(
            id,
            name,
            InkKind.Plastisol,
            role,
            k,
            s,
            OpticalConvention.Film,
            0.99,
            density,
            1,
            DataClass.C,
            PlastisolSource
        );
    }

    private static Ink WaterBased(
        string id,
        string name,
        InkRole role,
        params ImmutableArray<(double Amount, Pigment Pigment)> loads
    )
    {
        var (k, s) = InkMix.InCloth(loads);
        return new(
            id,
            name,
            InkKind.WaterBased,
            role,
            k,
            s,
            OpticalConvention.None,
            0.25,
            1.05,
            0.1,
            DataClass.C,
            WaterBasedSource
        );
    }

    private static Ink HighSolidsWhite()
    {
        var (k, s) = InkMix.InCloth([(1, White)]);
        return new(
            "wb-white-base",
            "White base, high solids",
            InkKind.HighSolidsWaterBased,
            InkRole.White,
            k,
            s,
            OpticalConvention.None,
            0.45,
            1.28,
            0.5,
            DataClass.C,
            WaterBasedSource
        );
    }
}
