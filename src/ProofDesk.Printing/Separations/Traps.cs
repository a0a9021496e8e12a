using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Lighter under darker: a colour runs on under the neighbours printed after it, so that no cloth shows
/// between them when the register is off. It never runs out onto the cloth: the spread is cut to what covers it.
/// </summary>
internal static class Traps
{
    /// <param name="cover">Shares of the neighbours printed later, in every place and on every ground.</param>
    public static BytePlane SpreadUnder(BytePlane drawing, BytePlane cover, double spreadMm, double pixelsPerMm)
    {
        var spread = spreadMm * pixelsPerMm;
        var distance = EdgeDistance.Of(drawing, spread + 1);
        return distance.Redrawn(
            drawing,
            (coverage, x, y) =>
            {
                var over = cover[x, y];
                // Shares of one pixel add up, so drawing and cover together close the seam.
                return over == 0
                    ? coverage
                    : (byte)Math.Min(255, coverage + Math.Min(distance.Grown(coverage, x, y, spread), over));
            }
        );
    }
}
