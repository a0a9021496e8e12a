using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Proofs;

/// <summary>The flat print on one ground, computed from the film bits.</summary>
/// <param name="Print">The picture, with <paramref name="MarginMm"/> of bare cloth around the inked extent.</param>
/// <param name="InkMask">How much of each picture pixel carries ink, 0..255, same size: lets the worn picture keep its own cloth.</param>
/// <param name="OutOfGamut">1 where sRGB cannot show the colour.</param>
/// <param name="OutOfGamutShare">Share of pixels, 0..1.</param>
/// <param name="OutOfGamutMaxDeltaE">Largest CIEDE2000 between the computed and the shown colour.</param>
/// <param name="Press">What the press did to each screen: register errors, growth, lost dots.</param>
/// <param name="AfterScreens">How many of the running screens were printed (head by head); all of them for the proof itself.</param>
public sealed record PrintedCloth(
    Ground Ground,
    Deposit Deposit,
    RgbPicture Print,
    BytePlane InkMask,
    BitPlane OutOfGamut,
    double OutOfGamutShare,
    double OutOfGamutMaxDeltaE,
    double MarginMm,
    int AfterScreens,
    PressRecord? Press = null
)
{
    /// <summary>The parts of a print that mirrors, which a worn garment lights anew; null when nothing mirrors.</summary>
    public MirrorLayer? Mirror { get; init; }
}

/// <summary>A print that mirrors, in two parts of the same size as its picture.</summary>
/// <param name="Matt">Scattered light alone.</param>
/// <param name="Specular">Colour of what is mirrored: what a mirrored white would look like.</param>
/// <param name="Roughness">Alpha of GGX.</param>
public sealed record MirrorLayer(RgbPicture Matt, RgbPicture Specular, double Roughness);

/// <summary>One row of the ink list: a screen of the job on one ground.</summary>
public sealed record InkListRow(
    int Order,
    string Plate,
    string Purpose,
    string Ink,
    string InkType,
    string Mesh,
    double MeshThreadsPerCm,
    double MeshThreadUm,
    double? LinesPerInch,
    double? AngleDegrees,
    string DotShape,
    int Strokes,
    bool Flash,
    double CoveragePercent,
    double AreaCm2,
    double TheoreticalInkVolumeCm3PerM2,
    double GramsPer100Prints,
    double GramsToMix,
    Lab ExpectedLab,
    Lab LightLab,
    Lab HeavyLab,
    string DataClass
)
{
    /// <summary>The ink's agreed colour and how near this ground lets it come; null when none was agreed.</summary>
    public TargetMatch? Target { get; init; }

    /// <summary>The shop's recipe of the ink, scaled to what is to be mixed; empty when it keeps none.</summary>
    public ImmutableArray<(string Name, double Grams)> Mix { get; init; } = [];

    /// <summary>The two of light, expected and heavy that differ most, CIEDE2000: the range a client accepts.</summary>
    public double SpanDeltaE00 =>
        Math.Max(
            Ciede2000.Difference(LightLab, HeavyLab),
            Math.Max(Ciede2000.Difference(LightLab, ExpectedLab), Ciede2000.Difference(ExpectedLab, HeavyLab))
        );

    /// <summary>What was changed on its film by hand, in words; null = as the separator made it.</summary>
    public string? ByHand { get; init; }

    /// <summary>The expected solid a week later, where dye of the cloth wanders into the ink; else null.</summary>
    public Lab? DaysLaterLab { get; init; }

    /// <summary>
    /// Metals have no single colour: the expected Lab is what an instrument at 45/0 reads, this is what is seen where they mirror
    /// something white; null for all other inks.
    /// </summary>
    public Lab? SpecularLab { get; init; }

    /// <summary>The light that metals are drawn in; empty for all other inks.</summary>
    public string MirrorLight { get; init; } = "";

    /// <summary>What to mind with this ink; empty when the method's own caution is all.</summary>
    public string Caution { get; init; } = "";
}

/// <summary>The ink list of one ground.</summary>
public sealed record InkList(Ground Ground, ImmutableArray<InkListRow> Rows);
