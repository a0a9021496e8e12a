using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// A file a method hands to production besides films and ink list. Drawn from the film bits the picture was made from.
/// </summary>
/// <param name="Name">Relative path with extension, lower case, e.g. "cut-paths/01-red.svg".</param>
public abstract record ProductionFile(string Name);

/// <summary>A text file: SVG, CSV, JSON.</summary>
public sealed record ProductionText(string Name, string MediaType, string Text) : ProductionFile(Name);

/// <summary>A colour picture, written as PNG (sRGB, with its size); with an opacity it has an alpha channel.</summary>
public sealed record ProductionPicture(string Name, RgbPicture Picture, BytePlane? Opacity = null)
    : ProductionFile(Name);

/// <summary>One channel of a print file: 255 = full ink.</summary>
public sealed record InkChannel(string Name, BytePlane Plane);

/// <summary>Channels of the same size, written as one greyscale PNG each: NAME-CHANNEL.png, black = full ink.</summary>
public sealed record ProductionChannels(string Name, ImmutableArray<InkChannel> Channels, double PixelsPerMm)
    : ProductionFile(Name);
