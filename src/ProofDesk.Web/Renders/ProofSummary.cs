using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Printing.Rosters;

namespace ProofDesk.Web.Renders;

/// <summary>
/// What the pages say about a version, written beside its pictures when it was rendered and bound with them. Pages read
/// this file and nothing newer.
/// </summary>
public sealed record ProofSummary(string Light, ImmutableArray<PrintSummary> Prints)
{
    public const string Path = "summary.json";
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    public byte[] ToJson() => JsonSerializer.SerializeToUtf8Bytes(this, Json);

    public static ProofSummary FromJson(ReadOnlySpan<byte> json) =>
        JsonSerializer.Deserialize<ProofSummary>(json, Json) ?? throw new InvalidDataException("the summary is empty");
}

public sealed record PrintSummary(
    string Key,
    string Name,
    string Place,
    string Method,
    string Caution,
    double WidthMm,
    double HeightMm,
    double FromSeamMm,
    double FromCentreMm,
    int FilmDpiX,
    int FilmDpiY,
    ImmutableArray<string> Words,
    ImmutableArray<PlateSummary> Plates,
    ImmutableArray<GroundSummary> Grounds,
    ImmutableArray<FindingSummary> Findings
)
{
    /// <summary>Which press the pictures were computed with and how well it is known, in words.</summary>
    public string? Press { get; init; }

    /// <summary>The output device with its version, in words; null in summaries older than devices.</summary>
    public string? Device { get; init; }

    /// <summary>"dots bound" or "tones bound, dots simulated".</summary>
    public string HandOver { get; init; } = "dots bound";

    /// <summary>"4 images, 2 x 2, 20 mm apart"; null for one image on a screen.</summary>
    public string? Images { get; init; }

    /// <summary>All films of the print on one small picture; null in older summaries.</summary>
    public string? FilmsPath { get; init; }

    /// <summary>Names and numbers, one line a garment; empty for a print without.</summary>
    public ImmutableArray<RosterLine> Roster { get; init; } = [];

    /// <summary>All of them on one picture.</summary>
    public string? RosterPath { get; init; }

    /// <summary>The table of screens of versions that were made with it; it is counted for who asks since.</summary>
    public ScreensSummary? Screens { get; init; }

    /// <summary>What a second set of plates would do; null for one garment.</summary>
    public SecondSetSummary? SecondSet { get; init; }
}

/// <summary>A garment of the list of names and numbers.</summary>
public sealed record RosterLine(string Name, string Number, string Size, string Colour)
{
    public static RosterLine Of(RosterEntry entry) => new(entry.Name, entry.Number, entry.Size, entry.Colour);

    /// <summary>"07 STRAND, M, black".</summary>
    [JsonIgnore]
    public string Words =>
        string.Join(", ", new[] { $"{Number} {Name}".Trim(), Size, Colour }.Where(part => part.Length > 0));
}

/// <param name="ViewPath">A small picture of the film inside the version.</param>
public sealed record PlateSummary(
    int Screen,
    string Name,
    string Purpose,
    string Ink,
    string Hex,
    string Mesh,
    double? LinesPerInch,
    double? AngleDegrees,
    string DotShape,
    int Strokes,
    bool Flash,
    double CoveragePercent,
    string Sha256,
    string ViewPath
)
{
    /// <summary>The whole film with its marks and label, small; null in older summaries.</summary>
    public string? FilmPath { get; init; }

    /// <summary>What was measured for film and screen, in words.</summary>
    public ImmutableArray<string>? Checks { get; init; }

    /// <summary>What was changed on this film by hand, in words; null when nothing was.</summary>
    public string? ByHand { get; init; }

    /// <summary>The film as it was separated; null in versions from before films could be changed.</summary>
    public MadeSummary? Made { get; init; }

    /// <summary>What 0, 10 ... 100 % on this film are expected to print as, %; empty in older versions.</summary>
    public ImmutableArray<double> PrintsAs { get; init; } = [];

    /// <summary>How much of the film was made with tones next to 0, 10 ... 100 %, cm2.</summary>
    public ImmutableArray<double> WedgeAreasCm2 { get; init; } = [];
}

/// <summary>What the separator gave a film before anybody changed it.</summary>
public sealed record MadeSummary(
    string Mesh,
    double LinesPerInch,
    double AngleDegrees,
    string Dot,
    int Strokes,
    bool Flash
);

public sealed record GroundSummary(
    string Id,
    string Garment,
    string Colour,
    string Hex,
    string Composition,
    string DataClass,
    string PrintPath,
    string LightPath,
    string HeavyPath,
    string GarmentPath,
    double PixelsPerMm,
    double MarginMm,
    double OutOfGamutPercent,
    double OutOfGamutMaxDeltaE,
    ImmutableArray<HeadSummary> Heads,
    ImmutableArray<InkRow> Inks,
    ImmutableArray<RunSummary> Runs
)
{
    /// <summary>The shirts of one run, and what they say in numbers.</summary>
    public ShirtsSummary? Shirts { get; init; }

    /// <summary>What the print feels like.</summary>
    public HandSummary? Hand { get; init; }

    public PressSummary? Press { get; init; }

    /// <summary>Where the print cannot follow painted art; null for spot art.</summary>
    public ReachSummary? Reach { get; init; }
}

/// <param name="WorstMm">How far two inks are apart at the spot on the worst of the shirts.</param>
/// <param name="UsualMm">On the middle one.</param>
public sealed record ShirtsSummary(string Path, int Count, double WindowMm, double UsualMm, double WorstMm);

public sealed record HandSummary(string Words, double ThickestUm, double DryGrams);

public sealed record PressSummary(string Name, int Heads, int FreeHeads, ImmutableArray<PressHeadSummary> Plan);

public sealed record PressHeadSummary(int Head, string Task, int? Screen, string Text);

/// <summary>The print after one more head.</summary>
public sealed record HeadSummary(int Screen, string After, string Path);

/// <summary>A row of the ink list with its three colours as sRGB.</summary>
public sealed record InkRow(
    int Order,
    string Plate,
    string Purpose,
    string Ink,
    string InkType,
    string Mesh,
    double? LinesPerInch,
    double? AngleDegrees,
    string DotShape,
    int Strokes,
    bool Flash,
    double CoveragePercent,
    double AreaCm2,
    double InkVolumeCm3PerM2,
    double GramsPer100,
    double GramsToMix,
    string ExpectedLab,
    string LightHex,
    string ExpectedHex,
    string HeavyHex,
    string DataClass
)
{
    /// <summary>The two ends of the range apart, CIEDE2000.</summary>
    public double RangeDeltaE00 { get; init; }

    /// <summary>How near the solid comes to the ink's target on this ground, in words; null when it has none.</summary>
    public string? Target { get; init; }

    /// <summary>What was changed on its film by hand, in words; null when nothing was.</summary>
    public string? ByHand { get; init; }

    /// <summary>The shop's formula scaled to what is to be mixed, in words; null when there is none.</summary>
    public string? Mix { get; init; }
}

/// <summary>A line of the change-over sheet.</summary>
public sealed record RunSummary(
    int Screen,
    string Plate,
    bool Runs,
    string Ink,
    int Strokes,
    bool Flash,
    string Reason
);

public sealed record FindingSummary(
    string Code,
    string Weight,
    string Message,
    string NextStep,
    double? Measured,
    double? Limit,
    string? Unit
)
{
    /// <summary>Where in the art it is worst; null where it has no one place, and in older versions.</summary>
    public SpotSummary? Spot { get; init; }
}

/// <summary>A rectangle on the inked extent, mm from its left and top.</summary>
public sealed record SpotSummary(double XMm, double YMm, double WidthMm, double HeightMm);
