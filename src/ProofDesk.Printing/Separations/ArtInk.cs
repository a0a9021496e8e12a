using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// An ink and the colours of the art it prints.
/// </summary>
/// <param name="Colours">Indices into the palette, the largest first.</param>
/// <param name="Wanted">The art's colour (of the largest), Lab D50.</param>
/// <param name="Prints">Per ground: whether this ink prints there; where not, the cloth shows.</param>
/// <param name="Gain">Per ground: what white under it gains, CIEDE2000; 0 for white itself.</param>
/// <param name="Printed">Per ground: how it comes out, with the base where it gets one.</param>
/// <param name="OnBase">Whether the base plate is under it.</param>
internal sealed record ArtInk(
    Ink Ink,
    string Name,
    ImmutableArray<int> Colours,
    Lab Wanted,
    double Weight,
    ImmutableArray<bool> Prints,
    ImmutableArray<double> Gain,
    ImmutableArray<Lab> Printed,
    bool OnBase
)
{
    public bool IsWhite => Ink.Role == InkRole.White;

    /// <summary>Dark enough, and on no base, to be printed over its neighbours instead of being knocked out of them.</summary>
    public bool IsKey => !OnBase && !IsWhite && Wanted.L < 40;
}
