using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// What a screen makes of a base drawn pixel by pixel. Specks are left out and pinholes closed (no freckled base, common
/// practice); and it is kept from peeking out: where colours lie on it, it is drawn in at its own edges by the choke, as far
/// as they cover it; where the base itself is the white of the picture, it stays. The choke yields: a strip that it would leave
/// narrower than the mesh holds keeps its width.
/// </summary>
internal static class TonalBase
{
    /// <summary>Smallest island and hole, mm across (common practice).</summary>
    public const double LeastIslandMm = 0.5;

    /// <summary>Less than this, 5 %, is no base: the mesh holds next to none of its dots.</summary>
    public const byte LeastTone = 13;

    /// <summary>A smaller change of tone within the choke, an eighth, is no edge.</summary>
    private const int LeastStep = 32;

    /// <summary>Leaves out what is smaller than a disc of the least island, closes what is smaller within.</summary>
    public static void Clean(BytePlane white, double pixelsPerMm)
    {
        var radius = LeastIslandMm / 2 * pixelsPerMm;
        Freckles.Clean(white, LeastTone, (int)Math.Round(Math.PI * radius * radius));
    }

    /// <param name="radius">The choke, px.</param>
    /// <param name="strip">Half the narrowest strip that the mesh holds, px.</param>
    /// <param name="gap">Half the narrowest gap in the base that is an edge of it and not its texture, px.</param>
    public static BytePlane Choked(BytePlane white, IReadOnlyList<BytePlane> colours, int radius, int strip, int gap)
    {
        if (radius == 0)
            return white;
        var choked = Extremes.Least(Filled(white, gap), radius);
        // What no square of the choke and half a strip fits into is narrower than both sides of the choke and a strip.
        var wide = Extremes.Most(Extremes.Least(white, radius + strip), radius + strip);
        RowLoop.Run(
            white.Height,
            white.Width * colours.Count,
            y =>
            {
                var row = choked.Row(y);
                var own = white.Row(y);
                var open = wide.Row(y);
                for (var x = 0; x < row.Length; x++)
                {
                    // Only where the base ends: a picture's own light and shade is no edge (halftone base: erode solid edges,
                    // [PHYSICS] 3.4), and the least of a soft tone would darken all of it.
                    var step = Math.Max(0, own[x] - row[x]);
                    step = Math.Min(step, 2 * Math.Max(0, step - LeastStep));
                    if (step == 0)
                    {
                        row[x] = own[x];
                        continue;
                    }
                    var over = 0;
                    foreach (var colour in colours)
                        over = Math.Max(over, colour.Pixels[y * white.Width + x]);
                    // From half covered on, the choke is whole.
                    var share = Math.Min(255, 2 * over);
                    var drawnIn = own[x] - step * share / 255;
                    row[x] = (byte)Math.Max(drawnIn, own[x] - open[x]);
                }
            }
        );
        return choked;
    }

    /// <summary>Gaps too narrow for a square of this size closed; what was there stays at least as much.</summary>
    private static BytePlane Filled(BytePlane white, int gap) =>
        BytePlane.Larger(Extremes.Least(Extremes.Most(white, gap), gap), white);
}
