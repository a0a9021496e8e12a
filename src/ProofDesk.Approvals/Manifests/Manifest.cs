using System.Collections.Immutable;

namespace ProofDesk.Approvals.Manifests;

/// <summary>
/// What a decision binds: one version of an order, with every print on every ground and every file by two digests.
/// Lengths in micrometres, Lab in hundredths, coverage in millionths, angles in thousandths of a degree: no fractions.
/// </summary>
/// <param name="Shop">Name of the print shop.</param>
/// <param name="Order">Order number as people say it.</param>
/// <param name="Version">1, 2, 3...</param>
/// <param name="VersionId">Identifier of the version; makes the digest of two equal-looking orders differ.</param>
/// <param name="ViewingLight">Light the pictures are computed for, e.g. "D50".</param>
/// <param name="StatementTexts">Digest of the sentences shown to the client, per locale.</param>
public sealed record Manifest(
    string Shop,
    string Order,
    int Version,
    string VersionId,
    HandOver HandOver,
    string ViewingLight,
    ImmutableArray<ManifestPrint> Prints,
    ImmutableArray<ManifestLine> Lines,
    ImmutableArray<ManifestGround> Grounds,
    ImmutableArray<ManifestPlate> Plates,
    ImmutableArray<ManifestFile> Files,
    ImmutableSortedDictionary<string, Sha256Digest> StatementTexts,
    RenderRecipe Render
)
{
    public const string Profile = "proofdesk-manifest/1";
}

/// <summary>Whether the very dots of the films are bound, or the tones that a device screens by itself.</summary>
public enum HandOver
{
    Dots,
    Tones,
}

/// <summary>A print: art, method, place and inked extent. Left and right are the wearer's.</summary>
/// <param name="Id">Identifier inside the order, e.g. "front".</param>
/// <param name="Place">Named place, e.g. "front" or "left chest".</param>
/// <param name="SizeGroup">Garment sizes this print serves, e.g. "S-3XL".</param>
/// <param name="FromSeamUm">From the seam to the top edge (sleeves: from the hem to the bottom edge).</param>
/// <param name="FromCentreUm">From the centre line to the centre of the print, towards the wearer's left.</param>
/// <param name="Words">Words in the art, in reading order, as the client confirms them.</param>
public sealed record ManifestPrint(
    string Id,
    string Place,
    string Method,
    string SizeGroup,
    int WidthUm,
    int HeightUm,
    int FromSeamUm,
    int FromCentreUm,
    ImmutableArray<string> Words
);

/// <summary>A line of the order: one garment in one colour, pieces per size in the order they are shown.</summary>
public sealed record ManifestLine(string Garment, string Colour, ImmutableArray<SizeCount> Counts);

public sealed record SizeCount(string Size, int Pieces);

/// <summary>Cloth of one colour under the print.</summary>
/// <param name="Lab">L*, a*, b* of the bare cloth in hundredths.</param>
public sealed record ManifestGround(string Id, string Garment, string Colour, LabHundredths Lab);

public readonly record struct LabHundredths(int L, int A, int B);

/// <summary>A printing plate.</summary>
/// <param name="Print">Identifier of its print.</param>
/// <param name="Screen">Place in the print order, from 1.</param>
/// <param name="Purpose">Base, spot, highlight white...</param>
/// <param name="Lpi">Screen ruling in lines per inch; 0 = no halftone.</param>
/// <param name="AngleMillidegrees">Screen angle.</param>
/// <param name="CoveragePpm">Share of the image area that prints, marks excluded.</param>
/// <param name="Path">Its file in <see cref="Manifest.Files"/>.</param>
/// <param name="OnGrounds">Grounds on which this screen runs, and the ink that sits in it there.</param>
public sealed record ManifestPlate(
    string Print,
    int Screen,
    string Purpose,
    string Mesh,
    int Lpi,
    int AngleMillidegrees,
    int CoveragePpm,
    string Path,
    ImmutableArray<PlateOnGround> OnGrounds
);

/// <param name="Lab">Expected colour of a solid on this ground, in hundredths.</param>
public sealed record PlateOnGround(string Ground, string Ink, LabHundredths Lab);

/// <summary>A bound file. Two digests, so that one may fade without losing the record.</summary>
/// <param name="Path">Path below data/files: ASCII letters, digits, dot, dash, underscore; "/" between folders.</param>
public sealed record ManifestFile(
    string Path,
    FileRole Role,
    string MediaType,
    long Bytes,
    Sha256Digest Sha256,
    string Sha512Hex
);

public enum FileRole
{
    Picture,
    GarmentPicture,
    Plate,
    PlatesPdf,
    InkList,

    /// <summary>A print's recipe, and what it reads besides the art.</summary>
    Recipe,
    Findings,

    /// <summary>The file the client sent, as it came.</summary>
    Art,

    /// <summary>What a method hands over besides films: print files, cut paths, panels.</summary>
    Production,
}

/// <summary>How the pictures can be made again.</summary>
/// <param name="Engine">Version of ProofDesk that rendered, e.g. "0.1.0".</param>
/// <param name="Recipe">Digest of recipe.json.</param>
public sealed record RenderRecipe(string Engine, Sha256Digest Recipe, long Seed);
