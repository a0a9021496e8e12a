namespace ProofDesk.Printing.Artworks;

/// <summary>Decoded art becomes art of a size: background answered, cropped to its inked extent, in millimetres.</summary>
public static class ArtSizing
{
    /// <summary>
    /// Sizes the art so that its inked extent is <paramref name="widthMm"/> wide.
    /// </summary>
    public static SizedArt Size(Artwork artwork, double widthMm, BackgroundChoice background) =>
        throw new NotSupportedException("arrives with the background");
}
