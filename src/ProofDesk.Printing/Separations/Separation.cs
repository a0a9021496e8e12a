using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Separations;

public enum PlatePurpose
{
    /// <summary>White under the colours.</summary>
    Base,

    /// <summary>White that is base and the art's white on one screen.</summary>
    BaseAndWhite,
    Spot,
    HighlightWhite,

    /// <summary>Takes dye out of the cloth under the colours.</summary>
    DischargeBase,

    /// <summary>Keeps the dye of a polyester from wandering into the inks above.</summary>
    BlockingBase,

    /// <summary>One of the four process colours.</summary>
    Process,

    /// <summary>Glue that foil sticks to.</summary>
    Adhesive,

    /// <summary>A sheet cut to shape.</summary>
    Sheet,
}

public static class PlatePurposes
{
    extension(PlatePurpose purpose)
    {
        /// <summary>A base that colours lie on: it changes how far they grow and how light spreads.</summary>
        public bool IsBase => purpose is PlatePurpose.Base or PlatePurpose.BaseAndWhite or PlatePurpose.BlockingBase;

        /// <summary>Runs under the colours, white or not: their solids are judged on it.</summary>
        public bool IsUnderColours => purpose.IsBase || purpose is PlatePurpose.DischargeBase;
    }
}

/// <summary>
/// One screen of the job, in print order.
/// </summary>
/// <param name="Name">Name of the plate, unique in the separation; it names film, PDF separation and ink-list row.</param>
/// <param name="Ink">Ink on the most demanding ground; a <see cref="GroundPlan"/> may put another one in.</param>
/// <param name="Tone">Film tone inside the shape, 0..255 = 0..100 % (already compensated for gain); art resolution.</param>
/// <param name="Shape">
/// Antialiased outline of the solid drawing at the same size, thresholded at one half at film resolution so that edges
/// stay smooth; null when the whole plate is tone.
/// </param>
/// <param name="Wanted">The tone the print should show, before gain compensation; same size. May be the same object as Tone.</param>
/// <param name="Screen">Ruling, angle and dot for tones; solids do not see it.</param>
/// <param name="Strokes">Strokes on this screen.</param>
/// <param name="FlashAfter">Flash before the next screen.</param>
/// <param name="Findings">What the separator wants to say about this plate.</param>
public sealed record Plate(
    string Name,
    PlatePurpose Purpose,
    Ink Ink,
    Mesh Mesh,
    Screen Screen,
    BytePlane Tone,
    BytePlane? Shape,
    BytePlane Wanted,
    int Strokes,
    bool FlashAfter
)
{
    /// <summary>How its film tones follow from the wanted ones; null where tones go onto the film as they are.</summary>
    internal FilmRule? Rule { get; init; }

    /// <summary>What was changed on it by hand, in words; null = as the separator made it.</summary>
    public string? ByHand { get; init; }

    /// <summary>The plate before it was changed by hand; null = as the separator made it.</summary>
    public Plate? Made { get; init; }

    /// <summary>
    /// Antialiased outline of what is solid whatever the tone and the shape around it say: lettering in painted art. Thresholded
    /// as the shape is. Null = nothing.
    /// </summary>
    public BytePlane? Solid { get; init; }
}

/// <summary>
/// One screen on one ground: which ink sits in it there, and whether it runs at all. Print-flash-print is the same plate
/// in two runs, the first flashed; two strokes are two wet strokes of the squeegee and lay down far less.
/// </summary>
/// <param name="Plate">Index into <see cref="Separation.Plates"/>.</param>
public sealed record ScreenRun(int Plate, bool Runs, Ink Ink, int Strokes, bool FlashAfter, string Reason);

/// <summary>The change-over sheet of one ground.</summary>
public sealed record GroundPlan(Ground Ground, ImmutableArray<ScreenRun> Runs);

/// <summary>A colour of the art and where it went.</summary>
/// <param name="ArtColour">Colour in the art, Lab D50.</param>
/// <param name="Plate">Index of the plate that prints it, or null when the cloth shows.</param>
/// <param name="AreaMm2">Its area in the art.</param>
/// <param name="Note">E.g. "the cloth shows (near-black on black)".</param>
public sealed record PaletteEntry(Lab ArtColour, int? Plate, double AreaMm2, string Note);

/// <summary>Plates for a SET of grounds.</summary>
/// <param name="PixelsPerMm">Resolution of the plate rasters.</param>
public sealed record Separation(
    ImmutableArray<Plate> Plates,
    ImmutableArray<GroundPlan> Grounds,
    ImmutableArray<PaletteEntry> Palette,
    double WidthMm,
    double HeightMm,
    double PixelsPerMm,
    ImmutableArray<Finding> Findings
)
{
    /// <summary>How the method brings these plates onto the cloth.</summary>
    public MethodPress Press { get; init; } = MethodPress.Screens;

    /// <summary>Cut sheets on each other where there are most; 0 where there are none.</summary>
    public int SheetsStacked { get; init; }

    /// <summary>How near the one set comes to the art on each ground; empty where nobody computed it.</summary>
    public ImmutableArray<GroundFit> Fits { get; init; } = [];

    /// <summary>What plates of their own would do for some of the grounds; null for one ground or where it would do nothing.</summary>
    public SecondSet? SecondSet { get; init; }

    /// <summary>Where the print cannot follow painted art, one for each ground; empty for spot art.</summary>
    public ImmutableArray<Reach> Reach { get; init; } = [];

    /// <summary>Where the print lies on the garment; null while nobody has said.</summary>
    public PrintLay? Lay { get; init; }
}
