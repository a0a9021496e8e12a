using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>Lines of an outline, and gaps in it, that a moved edge swallows.</summary>
internal static class ThinPlaces
{
    /// <summary>What <see cref="ThinStrokes"/> lets pass as within the art's resolution is gone all the same.</summary>
    private const double WithinArtMm = 0.05;

    public static ThinStrokes? Lines(BytePlane shape, double thinnerThanMm, double pixelsPerMm) =>
        ThinStrokes.Find(shape, pixelsPerMm, thinnerThanMm + WithinArtMm);

    public static ThinStrokes? Gaps(BytePlane shape, double thinnerThanMm, double pixelsPerMm)
    {
        // A margin of blank, or the strip along the border would be a gap.
        var margin = (int)Math.Ceiling(thinnerThanMm * pixelsPerMm) + 4;
        var blank = new BytePlane(shape.Width + 2 * margin, shape.Height + 2 * margin);
        blank.Pixels.AsSpan().Fill(255);
        for (var y = 0; y < shape.Height; y++)
        {
            var from = shape.Row(y);
            var to = blank.Row(y + margin).Slice(margin, shape.Width);
            for (var x = 0; x < to.Length; x++)
                to[x] = (byte)(255 - from[x]);
        }
        return ThinStrokes.Find(blank, pixelsPerMm, thinnerThanMm + WithinArtMm, margin);
    }
}
