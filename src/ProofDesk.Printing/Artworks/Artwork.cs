using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>What a decoder found in a picture file before and while reading it.</summary>
/// <param name="Format">"png", "jpeg", "tiff", "webp", "svg" or "pdf".</param>
/// <param name="WidthPixels">Width of the canvas as stored; for SVG and PDF, as rasterised.</param>
/// <param name="HeightPixels">Height of the canvas.</param>
/// <param name="BitsPerChannel">8 or 16 (as stored).</param>
/// <param name="ColourModel">"grey", "rgb" or "cmyk" (as stored); "spot" where only plates of a PDF were drawn.</param>
/// <param name="Profile">Description of the embedded profile, or null when there was none (sRGB or the default CMYK was assumed).</param>
/// <param name="HasAlpha">Whether the file carried transparency.</param>
/// <param name="IsVector">True for SVG and PDF: edges are exact at any size.</param>
public sealed record ArtSource(
    string Format,
    int WidthPixels,
    int HeightPixels,
    int BitsPerChannel,
    string ColourModel,
    string? Profile,
    bool HasAlpha,
    bool IsVector
)
{
    /// <summary>The page of a PDF that was drawn; null for files without pages to choose from.</summary>
    public int? Page { get; init; }

    /// <summary>Which program drew the page, with its version: it is not part of us, and another version may draw otherwise.</summary>
    public string? DrawnBy { get; init; }
}

/// <summary>
/// Decoded art: the whole canvas in linear light with straight alpha, as the client sent it. Physical size comes
/// later, with the placement.
/// </summary>
/// <param name="Pixels">The canvas.</param>
/// <param name="Source">What the file was.</param>
/// <param name="Sha256">Digest of the file's bytes, 64 lower-case hexadecimal digits.</param>
/// <param name="Findings">What the decoder noticed.</param>
public sealed record Artwork(RgbaRaster Pixels, ArtSource Source, string Sha256, ImmutableArray<Finding> Findings)
{
    /// <summary>Drawings of a file whose maker kept the inks apart, first printed first; empty for art that is one picture.</summary>
    public ImmutableArray<ArtLayer> Layers { get; init; } = [];

    /// <summary>Lines of text found in the file, for spelling; empty where text is drawn or outlined.</summary>
    public ImmutableArray<string> Words { get; init; } = [];
}

/// <summary>What to do with the background of opaque art: the question every JPEG raises.</summary>
public enum BackgroundChoice
{
    /// <summary>Not answered: art with alpha keeps it, opaque art keeps its background and a finding asks.</summary>
    AsGiven,

    /// <summary>The colour connected to the border becomes transparent: the cloth shows.</summary>
    Drop,

    /// <summary>The background is printed.</summary>
    Print,
}

/// <summary>
/// Art cropped to its inked extent at its physical size. Everything from here on is in millimetres.
/// </summary>
/// <param name="Pixels">The inked extent only; alpha 0 = no ink wanted.</param>
/// <param name="WidthMm">Width of the inked extent.</param>
/// <param name="HeightMm">Height of the inked extent.</param>
/// <param name="Artwork">The art it came from.</param>
/// <param name="CropLeft">Columns cropped from the canvas at the left, px; likewise the others.</param>
/// <param name="Findings">Findings of decoding and sizing together.</param>
public sealed record SizedArt(
    RgbaRaster Pixels,
    double WidthMm,
    double HeightMm,
    Artwork Artwork,
    int CropLeft,
    int CropTop,
    ImmutableArray<Finding> Findings
)
{
    /// <summary>The layers of the art, cropped and scaled as its pixels are.</summary>
    public ImmutableArray<ArtLayer> Layers { get; init; } = [];

    /// <summary>Art pixels per millimetre of print.</summary>
    public double PixelsPerMm => Pixels.Width / WidthMm;

    /// <summary>Art pixels per inch of print.</summary>
    public double Dpi => PixelsPerMm * 25.4;
}
