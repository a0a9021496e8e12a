using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>
/// Tells the tone in a layer from its antialiased edges. Where solid and blank both lie near, what is between them is an edge; a
/// line too thin to be solid anywhere is one as well. Everything else between blank and solid is a tint, a fade or a halftone to be.
/// </summary>
internal static class LayerTones
{
    /// <summary>From here on a pixel is solid: the growth of the ink closes what is left.</summary>
    private const byte NearlySolid = 243;

    /// <summary>Up to here it is blank: no mesh holds such dots.</summary>
    private const byte NearlyBlank = 13;

    /// <summary>A tone changes at most so much from pixel to pixel where the cloth lies near; an edge changes more.</summary>
    private const int Step = 16;

    /// <summary>Not zero where the layer has a tone; null when it has none.</summary>
    public static BytePlane? Find(BytePlane coverage, double pixelsPerMm)
    {
        var reach = (int)Math.Clamp(Math.Round(0.2 * pixelsPerMm), 2, 5);
        if (coverage.Pixels.AsSpan().IndexOfAnyInRange((byte)1, (byte)(NearlySolid - 1)) < 0)
            return null;
        var (largest, smallest) = (Extremes.Most(coverage, reach), Extremes.Least(coverage, reach));
        var tones = new BytePlane(coverage.Width, coverage.Height);
        var found = 0;
        RowLoop.Run(
            coverage.Height,
            coverage.Width * 2,
            y =>
            {
                if (Row(coverage, y, largest.Row(y), smallest.Row(y), tones.Row(y)))
                    Interlocked.Exchange(ref found, 1);
            }
        );
        return found == 0 ? null : tones;
    }

    private static bool Row(
        BytePlane coverage,
        int y,
        ReadOnlySpan<byte> largest,
        ReadOnlySpan<byte> smallest,
        Span<byte> tones
    )
    {
        var row = coverage.Row(y);
        var found = false;
        for (var x = 0; x < row.Length; x++)
        {
            if (row[x] is 0 or >= NearlySolid)
                continue;
            var (solidNear, blankNear) = (largest[x] >= NearlySolid, smallest[x] <= NearlyBlank);
            if (solidNear && blankNear || blankNear && !IsSmooth(coverage, x, y))
                continue;
            (tones[x], found) = (1, true);
        }
        return found;
    }

    private static bool IsSmooth(BytePlane coverage, int x, int y)
    {
        var value = coverage[x, y];
        bool Near(int nx, int ny) =>
            nx < 0
            || ny < 0
            || nx >= coverage.Width
            || ny >= coverage.Height
            || Math.Abs(coverage[nx, ny] - value) <= Step;
        return Near(x - 1, y) && Near(x + 1, y) && Near(x, y - 1) && Near(x, y + 1);
    }
}
