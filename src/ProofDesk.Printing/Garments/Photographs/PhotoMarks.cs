using System.Collections.Immutable;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>A point of the photograph in its pixels, from the top left corner of the picture.</summary>
public readonly record struct PhotoPoint(double X, double Y)
{
    public double To(PhotoPoint other) => Math.Sqrt((other.X - X) * (other.X - X) + (other.Y - Y) * (other.Y - Y));
}

/// <summary>A tape laid on the photograph: two points that are a known length apart on the cloth.</summary>
public sealed record PhotoTape(PhotoPoint From, PhotoPoint To, double Mm)
{
    public double Pixels => From.To(To);

    public double PixelsPerMm => Pixels / Mm;
}

/// <summary>What a person drew on a photograph of a garment.</summary>
/// <param name="Tape">What the scale is taken from.</param>
/// <param name="Check">A second tape, best across the first; null when none was drawn.</param>
/// <param name="Seam">The middle of the collar seam (of a bag, of its top edge): where tape measures of prints start.</param>
/// <param name="Down">A point further down the garment's centre line.</param>
/// <param name="Area">The garment, or the part of it that may be printed, as a polygon.</param>
/// <param name="Tolerance">How far the cloth's colour may differ from its middle inside the area; null = all of the area is cloth.</param>
public sealed record PhotoMarks(
    PhotoTape Tape,
    PhotoTape? Check,
    PhotoPoint Seam,
    PhotoPoint Down,
    ImmutableArray<PhotoPoint> Area,
    double? Tolerance
);

/// <summary>
/// A photograph as a side of a garment. It is bound by the digest of its file, which holds pixels and nothing else; the pixels
/// are there once somebody read that file.
/// </summary>
public sealed record GarmentPhotograph(string FileName, string Sha256, int Width, int Height, PhotoMarks Marks)
{
    /// <summary>Longest side that is kept, px: 2 pixels a mm of a garment 800 mm high.</summary>
    public const int MostSide = 1600;

    public Imaging.Rasters.RgbPicture? Pixels { get; init; }

    /// <summary>The file that <see cref="Sha256"/> is the digest of; empty before it was read.</summary>
    public ImmutableArray<byte> File { get; init; } = [];
}
