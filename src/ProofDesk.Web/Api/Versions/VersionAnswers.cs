using System.ComponentModel;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Api.Versions;

/// <summary>A version: how far its rendering is, and once it is rendered what it shows.</summary>
public sealed record VersionAnswer(
    Guid Id,
    Guid OrderId,
    [property: Example("1007")] int OrderNumber,
    [property: Example("1")] int Number,
    VersionState State,
    RenderingAnswer? Rendering,
    [property: Description("SHA-256 of what the version binds; null until it is rendered.")] string? ManifestSha256,
    [property: Description("Who asked for it.")] string CreatedBy,
    DateTimeOffset CreatedAt,
    DateTimeOffset? FrozenAt,
    DateTimeOffset? SentAt,
    DateTimeOffset? DecidedAt,
    [property: Description("What each print shows; empty until the version is rendered.")]
        IReadOnlyList<PrintShown> Prints,
    [property: Description("Everything the version binds; empty until it is rendered.")] IReadOnlyList<FileAnswer> Files
)
{
    public static VersionAnswer Of(ProofVersion version, RenderView? work, ReadVersion? read) =>
        new(
            version.Id,
            version.OrderId,
            version.Order!.Number,
            version.Number,
            version.State,
            work is null ? null : new(work.State, work.Stage, work.PercentDone, work.Error ?? version.Error),
            version.ManifestSha256,
            version.CreatedBy,
            version.CreatedAt,
            version.FrozenAt,
            version.SentAt,
            version.DecidedAt,
            read is null ? [] : [.. read.Summary.Prints.Select(p => PrintShown.Of(p, read))],
            [.. version.Files.OrderBy(f => f.Path, StringComparer.Ordinal).Select(FileAnswer.Of)]
        );
}

/// <summary>How far the rendering is.</summary>
public sealed record RenderingAnswer(
    RenderState State,
    [property: Description("What is being done, in words.")] string Stage,
    [property: Example("40")] int Percent,
    [property: Description("Why it failed and what to do; null when it did not.")] string? Error
);

/// <summary>One print of a rendered version, as it was when it was rendered.</summary>
public sealed record PrintShown(
    [property: Example("\"front\"")] string Key,
    string Name,
    string Place,
    [property: Description("The method's name.")] string Method,
    [property: Description("What to beware of, in words; suppliers' sheets and local rules go first.")] string Caution,
    double WidthMm,
    double HeightMm,
    double FromSeamMm,
    double FromCentreMm,
    IReadOnlyList<string> Words,
    [property: Description("Which press the pictures were computed with; null in old versions.")] string? Press,
    [property: Description("The output device; null in old versions.")] string? Device,
    IReadOnlyList<ScreenShown> Screens,
    IReadOnlyList<GroundShown> Grounds,
    IReadOnlyList<FindingAnswer> Findings
)
{
    public static PrintShown Of(PrintSummary print, ReadVersion read) =>
        new(
            print.Key,
            print.Name,
            print.Place,
            print.Method,
            print.Caution,
            print.WidthMm,
            print.HeightMm,
            print.FromSeamMm,
            print.FromCentreMm,
            print.Words,
            print.Press,
            print.Device,
            [.. print.Plates.Select(ScreenShown.Of)],
            [.. print.Grounds.Select(g => GroundShown.Of(g, read))],
            [.. print.Findings.Select(FindingAnswer.Of)]
        );
}

/// <summary>One film with its screen.</summary>
public sealed record ScreenShown(
    [property: Example("1")] int Screen,
    string Name,
    string Purpose,
    string Ink,
    string Hex,
    [property: Description("Threads per cm and thread in um, or \"none\".")]
    [property: Example("\"61-64\"")]
        string Mesh,
    double? LinesPerInch,
    double? AngleDegrees,
    string DotShape,
    int Strokes,
    [property: Description("A flash follows.")] bool Flash,
    double CoveragePercent,
    [property: Description("Digest of the film; the film itself leaves with the films.")] string Sha256
)
{
    public static ScreenShown Of(PlateSummary plate) =>
        new(
            plate.Screen,
            plate.Name,
            plate.Purpose,
            plate.Ink,
            plate.Hex,
            plate.Mesh,
            plate.LinesPerInch,
            plate.AngleDegrees,
            plate.DotShape,
            plate.Strokes,
            plate.Flash,
            plate.CoveragePercent,
            plate.Sha256
        );
}

/// <summary>The print on one garment in one colour.</summary>
public sealed record GroundShown(
    [property: Example("\"tee/black\"")] string Id,
    string Garment,
    string Colour,
    string Hex,
    [property: Description("A measured for this, B one measurement or the maker's Lab, C a default of the trade.")]
        string DataClass,
    [property: Description("Addresses of the pictures; the digest in each is the one that is bound.")]
        PicturesShown Pictures,
    double PixelsPerMm,
    [property: Description("Share of the picture whose colour no screen can show.")] double OutOfGamutPercent,
    IReadOnlyList<InkShown> Inks
)
{
    public static GroundShown Of(GroundSummary ground, ReadVersion read) =>
        new(
            ground.Id,
            ground.Garment,
            ground.Colour,
            ground.Hex,
            ground.DataClass,
            new(
                FileAnswer.Address(read.File(ground.PrintPath)),
                FileAnswer.Address(read.File(ground.LightPath)),
                FileAnswer.Address(read.File(ground.HeavyPath)),
                FileAnswer.Address(read.File(ground.GarmentPath))
            ),
            ground.PixelsPerMm,
            ground.OutOfGamutPercent,
            [.. ground.Inks.Select(InkShown.Of)]
        );
}

/// <summary>PNG, sRGB.</summary>
public sealed record PicturesShown(
    [property: Description("The print as expected, flat and to scale.")] string? Print,
    [property: Description("The thin end of the range.")] string? Light,
    [property: Description("The thick end of the range.")] string? Heavy,
    [property: Description("The print on the garment.")] string? Garment
);

/// <summary>A row of the ink list.</summary>
public sealed record InkShown(
    int Order,
    string Screen,
    string Purpose,
    string Ink,
    string InkType,
    string Mesh,
    int Strokes,
    bool Flash,
    double CoveragePercent,
    double AreaCm2,
    [property: Description("As film and mesh lay it; real use is more.")] double GramsPer100,
    [property: Description("For the counts of the order, with what stays in screens and buckets.")] double GramsToMix,
    [property: Description("CIE L* a* b* of the solid as expected on this ground.")] string ExpectedLab,
    string ExpectedHex,
    string DataClass
)
{
    public static InkShown Of(InkRow row) =>
        new(
            row.Order,
            row.Plate,
            row.Purpose,
            row.Ink,
            row.InkType,
            row.Mesh,
            row.Strokes,
            row.Flash,
            row.CoveragePercent,
            row.AreaCm2,
            row.GramsPer100,
            row.GramsToMix,
            row.ExpectedLab,
            row.ExpectedHex,
            row.DataClass
        );
}

/// <summary>Something worth knowing about art, print or press.</summary>
public sealed record FindingAnswer(
    [property: Description("Stable, for programs.")] string Code,
    [property: Description("How heavy it weighs, in a word.")] string Weight,
    string Message,
    string NextStep,
    double? Measured,
    double? Limit,
    string? Unit
)
{
    public static FindingAnswer Of(FindingSummary finding) =>
        new(
            finding.Code,
            finding.Weight,
            finding.Message,
            finding.NextStep,
            finding.Measured,
            finding.Limit,
            finding.Unit
        );
}

/// <summary>One file a version binds.</summary>
public sealed record FileAnswer(
    [property: Description("Path inside the packet.")] string Path,
    FileRole Role,
    string MediaType,
    long Bytes,
    string Sha256,
    [property: Description(
        "Where its bytes are; null for the client's art and for films, which leave by the version's films."
    )]
        string? Href
)
{
    public static FileAnswer Of(VersionFile file) =>
        new(file.Path, file.Role, file.MediaType, file.Bytes, file.Sha256, Address(file));

    public static string? Address(VersionFile? file) =>
        file is null or { Role: FileRole.Art or FileRole.Plate or FileRole.PlatesPdf or FileRole.Production }
            ? null
            : $"/api/v1/files/{file.Sha256}";
}

/// <summary>Whether full films may leave.</summary>
public sealed record ReleaseAnswer(
    bool MayLeave,
    [property: Description("Why they may not, in words; null when they may.")] string? Refusal,
    [property: Description("Until then the approval can be taken back and films wait.")] DateTimeOffset? HoldUntil
);
