using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>A layer and the ink it prints in.</summary>
/// <param name="Name">The name its plate bears.</param>
/// <param name="Role">What it is for; may differ from what the name says when the drawing says otherwise.</param>
/// <param name="How">How the ink was found, for the finding: "by its name".</param>
/// <param name="IsSure">False where a name and a colour disagree, or the nearest ink is far.</param>
internal sealed record LayerMatch(ArtLayer Layer, string Name, LayerRole Role, Ink Ink, string How, bool IsSure)
{
    public BytePlane Coverage => Layer.Coverage;

    /// <summary>The colour the file shows it in, Lab D50; null when the file does not say.</summary>
    public Lab? Shown => Layer.Colour is { } hex && ClothShows.Hex(hex) is { } linear ? Srgb.ToLab(linear) : null;

    public bool IsUnder => Role is LayerRole.Base or LayerRole.DischargeBase or LayerRole.BlockingBase;
}
