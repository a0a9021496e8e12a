using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>What was counted while a film was read once from top to bottom, image area only.</summary>
/// <param name="InkPixels">Film pixels that carry ink.</param>
/// <param name="Pixels">All film pixels of the image area.</param>
/// <param name="AreaCm2">Inked area at the device's resolution, cm2.</param>
/// <param name="Sha256">Digest of the image area's bits (see <see cref="FilmMeasure"/>), 64 lower-case hexadecimal digits.</param>
public sealed record FilmMeasure(long InkPixels, long Pixels, double AreaCm2, string Sha256)
{
    public double CoveragePercent => 100.0 * InkPixels / Pixels;
}

/// <summary>Everything drawn and counted for one ground.</summary>
/// <param name="Expected">The flat print.</param>
/// <param name="Range">Light and heavy end when asked for, else empty.</param>
/// <param name="HeadByHead">After the first, second, ... running screen when asked for, else empty.</param>
/// <param name="Garment">The worn picture.</param>
public sealed record GroundProof(
    GroundPlan Plan,
    PrintedCloth Expected,
    ImmutableArray<PrintedCloth> Range,
    ImmutableArray<PrintedCloth> HeadByHead,
    RgbPicture Garment,
    InkList InkList
)
{
    public Ground Ground => Plan.Ground;
}

/// <summary>
/// The finished proof of one print: pictures, plates, ink lists and the recipe they came from. A value; whether it was
/// approved is the log's business.
/// </summary>
/// <param name="Measures">One for each film, in plate order.</param>
public sealed record Proof(
    ProofRequest Request,
    SizedArt Art,
    Separation Separation,
    Films Films,
    ImmutableArray<FilmMeasure> Measures,
    ImmutableArray<GroundProof> Grounds,
    Recipe Recipe,
    ImmutableArray<Finding> Findings
);

/// <summary>
/// What went in: canonical JSON (sorted keys, integers and texts only, no spaces) and its SHA-256.
/// </summary>
public sealed record Recipe(string Json, string Sha256);

/// <summary>How far a proof is: the step's name and the share of the whole, 0..1.</summary>
public sealed record ProofProgress(string Step, double Done);
