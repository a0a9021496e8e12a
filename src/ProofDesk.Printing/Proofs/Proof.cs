using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

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

    /// <summary>Which head holds what; null for a print that no carousel makes.</summary>
    public PressPlan? PressPlan { get; init; }

    public HandFeel? Hand { get; init; }

    /// <summary>Shirts of one run side by side when the range was asked for.</summary>
    public RunStrip? Strip { get; init; }

    /// <summary>Each solid beside the art's colour under daylight and two other lights.</summary>
    public ImmutableArray<SecondLightRow> SecondLights { get; init; } = [];

    /// <summary>Clear inks that print on each other: what a densitometer would call the trap.</summary>
    public ImmutableArray<Overprint> Overprints { get; init; } = [];
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
)
{
    /// <summary>What was measured of each plate for film and screen, in plate order.</summary>
    public ImmutableArray<PlateCheck> PlateChecks { get; init; } = [];

    /// <summary>Names and numbers, when the request has them.</summary>
    public RosterProof? Roster { get; init; }
}

/// <summary>
/// What went in: canonical JSON (sorted keys, integers and texts only, no spaces) and its SHA-256.
/// </summary>
public sealed record Recipe(string Json, string Sha256)
{
    /// <summary>
    /// JSON: what the ninth place cut off, by where it stands in the recipe. It is no part of the digest: it can change nothing but
    /// places beyond the ninth.
    /// </summary>
    public string Digits { get; init; } = "{}";
}

/// <summary>How far a proof is: the step's name and the share of the whole, 0..1.</summary>
public sealed record ProofProgress(string Step, double Done);
