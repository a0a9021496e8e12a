using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Proofs;

/// <summary>Colour of unprinted cloth on the display.</summary>
internal static class BareCloth
{
    /// <summary>With the brightener, as light leaves the cloth.</summary>
    public static LinearRgb Linear(Ground ground, ViewingLight light) =>
        Linear(Brightener.Radiance(ground.Colour), light);

    public static LinearRgb Linear(Spectrum radianceFactor, ViewingLight light) =>
        GamutMapping.IntoSrgb(Srgb.FromXyz(Tristimulus.Of(radianceFactor, light), light));
}
