using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Keeps a halftone base from peeking out: where colours lie on it, it is drawn in at its own edges by the choke, as far
/// as they cover it; where the base itself is the white of the picture, it stays.
/// </summary>
internal static class TonalBase
{
    public static BytePlane Choked(BytePlane white, IReadOnlyList<BytePlane> colours, int radius)
    {
        var choked = Least(white, radius);
        RowLoop.Run(
            white.Height,
            white.Width * colours.Count,
            y =>
            {
                var row = choked.Row(y);
                var own = white.Row(y);
                for (var x = 0; x < row.Length; x++)
                {
                    if (own[x] == row[x])
                        continue;
                    var over = 0;
                    foreach (var colour in colours)
                        over = Math.Max(over, colour.Pixels[y * white.Width + x]);
                    // From half covered on, the choke is whole.
                    var share = Math.Min(255, 2 * over);
                    row[x] = (byte)(own[x] - (own[x] - row[x]) * share / 255);
                }
            }
        );
        return choked;
    }

    /// <summary>The least tone within a square of this radius; outside there is none.</summary>
    private static BytePlane Least(BytePlane source, int radius)
    {
        var across = new BytePlane(source.Width, source.Height);
        RowLoop.Run(
            source.Height,
            source.Width * radius,
            y =>
            {
                var from = source.Row(y);
                var to = across.Row(y);
                for (var x = 0; x < to.Length; x++)
                {
                    var least = x < radius || x + radius >= to.Length ? (byte)0 : from[x];
                    for (var d = 1; d <= radius && least > 0; d++)
                        least = Math.Min(least, Math.Min(from[x - d], from[x + d]));
                    to[x] = least;
                }
            }
        );
        var result = new BytePlane(source.Width, source.Height);
        RowLoop.Run(
            source.Height,
            source.Width * radius,
            y =>
            {
                if (y < radius || y + radius >= source.Height)
                    return;
                var to = result.Row(y);
                across.Row(y).CopyTo(to);
                for (var d = 1; d <= radius; d++)
                {
                    var above = across.Row(y - d);
                    var below = across.Row(y + d);
                    for (var x = 0; x < to.Length; x++)
                        to[x] = Math.Min(to[x], Math.Min(above[x], below[x]));
                }
            }
        );
        return result;
    }
}
