using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>Lines of an outline, and gaps in it, that a moved edge swallows.</summary>
internal static class ThinPlaces
{
    /// <summary>What <see cref="ThinStrokes"/> lets pass as within the art's resolution is gone all the same.</summary>
    private const double WithinArtMm = 0.05;

    public static ThinStrokes? Lines(BytePlane shape, double thinnerThanMm, double pixelsPerMm) =>
        ThinStrokes.Find(shape, pixelsPerMm, thinnerThanMm + WithinArtMm);

    public static ThinStrokes? Gaps(BytePlane shape, double thinnerThanMm, double pixelsPerMm) =>
        ThinStrokes.Gaps(shape, pixelsPerMm, thinnerThanMm + WithinArtMm);
}
