using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Metals;

namespace ProofDesk.Printing.Inks;

/// <summary>Where an ink sits, and so which physics it follows.</summary>
public enum InkKind
{
    /// <summary>A film on the cloth: Kubelka-Munk layer with Saunderson at the top ([PHYSICS] 1.2, 1.3).</summary>
    Plastisol,

    /// <summary>Thin pigment inside the top of the cloth: K and S mixed with the cloth's own ([PHYSICS] 1.8).</summary>
    WaterBased,

    /// <summary>Water-based with much white pigment: half film, half in the cloth ([PHYSICS] 4).</summary>
    HighSolidsWaterBased,

    /// <summary>Takes dye out of the cloth and leaves pigment in it ([PHYSICS] 1.9).</summary>
    Discharge,

    /// <summary>Metal flakes in a clear film ([PHYSICS] 1.11).</summary>
    Metallic,

    /// <summary>Glue with metal foil pressed on it ([PHYSICS] 1.11).</summary>
    Foil,

    /// <summary>Dye that goes into polyester ([PHYSICS] 1.10).</summary>
    Dye,

    /// <summary>Drops of pigment ink on pretreated cloth ([PHYSICS] 3.6).</summary>
    Jet,

    /// <summary>An opaque sheet, cut and pressed on.</summary>
    Sheet,
}

public enum InkRole
{
    Colour,
    White,
    Black,
}

/// <summary>
/// The optical convention K and S were found with ([PHYSICS] 1.3). Inks of two conventions are never stacked.
/// </summary>
/// <param name="K1">Fresnel reflection of the collimated light at the surface.</param>
/// <param name="K2">Internal diffuse reflection at the surface.</param>
/// <param name="Ki">Surface reflection that reaches the instrument (0.012 for 45/0 on a matt film).</param>
public readonly record struct OpticalConvention(double K1, double K2, double Ki)
{
    /// <summary>Film inks of the default library ([PHYSICS] 4).</summary>
    public static OpticalConvention Film { get; } = new(0.04, 0.6, 0.012);

    /// <summary>No interface: inks inside the cloth.</summary>
    public static OpticalConvention None { get; } = new(0, 0, 0);
}

/// <summary>
/// An ink. Absorption and scattering are per micrometre of dry ink film (plastisol) or of pigment-equivalent film
/// (water-based).
/// </summary>
/// <param name="Id">Stable identifier, e.g. "white", "bright-yellow", "wb-red".</param>
/// <param name="VolumeSolids">Share of the wet volume that stays, 0..1.</param>
/// <param name="DensityGramsPerCm3">Wet density.</param>
/// <param name="SurfaceShare">Share that stays on the surface as a film, 0..1 (1 for plastisol, about 0.1 for water-based).</param>
public sealed record Ink(
    string Id,
    string Name,
    InkKind Kind,
    InkRole Role,
    Spectrum AbsorptionPerUm,
    Spectrum ScatteringPerUm,
    OpticalConvention Convention,
    double VolumeSolids,
    double DensityGramsPerCm3,
    double SurfaceShare,
    DataClass DataClass,
    string Source
)
{
    /// <summary>Thickness of a sheet, um; 0 for ink, whose film the mesh decides.</summary>
    public double SheetUm { get; init; }

    /// <summary>
    /// How far the ink wets the fibres below it, 0..1: a wet fibre lies in a medium of its own index and scatters less, so a
    /// clear base darkens cloth ([LEKNER-DORF-1988]). 0 leaves the cloth as it is; 0.1 to 0.3 for a clear base (a proposal).
    /// </summary>
    public double Wetting { get; init; }

    /// <summary>Share of a dye migrating from below that the film keeps from the films above it, 0..1.</summary>
    public double DyeBlocking { get; init; }

    /// <summary>The metal of metallic inks and foils; null for all others.</summary>
    public MetalFinish? Finish { get; init; }

    /// <summary>What the ink list says beside it, deferring to the supplier's sheet; empty when nothing more than the method's own caution.</summary>
    public string Caution { get; init; } = "";

    /// <summary>The shop's own recipe, when it keeps one.</summary>
    public InkFormula? Formula { get; init; }

    /// <summary>The colour a solid of it shall have, when one was agreed.</summary>
    public InkTarget? Target { get; init; }

    /// <summary>Wet ink a print head lays down at full coverage, ml/m2; 0 = a mesh meters it.</summary>
    public double JetMlPerM2 { get; init; }
}
