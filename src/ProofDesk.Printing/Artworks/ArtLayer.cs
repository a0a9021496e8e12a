using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>One named drawing of a file whose maker kept the inks apart.</summary>
/// <param name="Name">As the file names it.</param>
/// <param name="Colour">"#rrggbb" as the file shows it at full strength; null when the file does not say.</param>
/// <param name="Coverage">How much of its ink is wanted, 0..255 = 0..100 %; as large as the art's pixels.</param>
public sealed record ArtLayer(string Name, string? Colour, BytePlane Coverage);
