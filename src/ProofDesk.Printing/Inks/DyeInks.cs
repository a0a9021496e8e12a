using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Cyan, magenta, yellow and black of a transfer printer. A dye has no film and no scattering of its own: K is what the
/// full amount adds to polyester whose own S is taken as 1, so K / S is the number the cloth is dyed with. There is no white.
/// </summary>
public static class DyeInks
{
    public static ImmutableArray<Ink> All { get; } = [.. SublimationDye.Default.Select(Of)];

    /// <summary>K/S the full amount adds to a polyester fibre.</summary>
    public static Spectrum KsAtFull(Ink dye) =>
        Spectrum.Combine(dye.AbsorptionPerUm, dye.ScatteringPerUm, (k, s) => k / s);

    private static Ink Of(SublimationDye dye) =>
        new(
            $"dye-{dye.Id}",
            dye.Name,
            InkKind.Dye,
            dye.Id == "black" ? InkRole.Black : InkRole.Colour,
            dye.KsAtFull,
            Spectrum.Flat(1),
            OpticalConvention.None,
            0.05,
            1.06,
            0,
            DataClass.C,
            "default of the trade: shapes of pigments of the same hue stand in for disperse dyes, no transfer measured; print and measure a ramp on your cloth to replace it"
        );
}
