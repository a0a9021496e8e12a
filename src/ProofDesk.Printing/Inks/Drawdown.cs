using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Inks;

/// <summary>An opaque film of so much of the ink, by weight, mixed into white.</summary>
public sealed record WhiteTint(double Percent, Spectrum Reflectance);

/// <summary>
/// One film of an ink as an instrument saw it ([PHYSICS] 4.3): over the black and the white half of a card, and both halves bare.
/// Reflectances are measured ones, surface and all.
/// </summary>
/// <param name="FilmUm">Dry thickness; null when nobody measured it.</param>
/// <param name="Mesh">The mesh the film was printed through, when it was printed.</param>
/// <param name="InstrumentKi">Surface reflection that reached the instrument.</param>
public sealed record Drawdown(
    Spectrum OverBlack,
    Spectrum OverWhite,
    Spectrum Black,
    Spectrum White,
    double? FilmUm,
    Mesh? Mesh,
    double InstrumentKi,
    ImmutableArray<WhiteTint> Tints
)
{
    /// <summary>Lines of the file the four rows stand on: over black, over white, black, white.</summary>
    public ImmutableArray<int> Lines { get; init; } = [0, 0, 0, 0];
}
