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
        var result = new BytePlane(drawing.Width, drawing.Height);
        RowLoop.Run(
            drawing.Height,
            drawing.Width,
            y =>
            {
                drawing.Row(y).CopyTo(result.Row(y));
                var steps = distance.Row(y);
                var row = result.Row(y);
                var over = cover.Row(y);
                for (var x = 0; x < steps.Length; x++)
                {
                    var skip = steps[x..].IndexOfAnyExcept((byte)255);
                    if (skip < 0)
                        break;
                    x += skip;
                    if (over[x] == 0)
                        continue;
                    var grown = distance.Grown(row[x], x, y, spread);
                    // Shares of one pixel add up, so drawing and cover together close the seam.
                    row[x] = (byte)Math.Min(255, row[x] + Math.Min(grown, over[x]));
                }
            }
        );
        return result;
    }
}
