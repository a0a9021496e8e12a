using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Dyes;

/// <summary>
/// A disperse dye of a transfer printer. Dye only: it scatters nothing, and there is no white.
/// </summary>
/// <param name="KsAtFull">K/S it adds to polyester at the most the transfer brings over.</param>
public sealed record SublimationDye(string Id, string Name, Spectrum KsAtFull)
{
    /// <summary>Cyan, magenta, yellow, black in print order of the channels; shapes of pigments of the same hue (data class C).</summary>
    public static ImmutableArray<SublimationDye> Default { get; } =
    [
        new("cyan", "Cyan dye", Scaled(Pigment.Blue.K, 9)),
        new("magenta", "Magenta dye", Scaled(Pigment.Magenta.K, 9)),
        new("yellow", "Yellow dye", Scaled(Pigment.Yellow.K, 9)),
        // On white polyester L* 20.5, the black of [PHYSICS] 1.10.
        new("black", "Black dye", Spectrum.Flat(15.3)),
    ];

    private static Spectrum Scaled(Spectrum shape, double peak)
    {
        var most = shape.Values.ToArray().Max();
        return shape.Map(v => v * peak / most);
    }
}
