using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// The two planes of a plate while it is made: where there is ink at all, and how much of it inside.
/// </summary>
/// <param name="Shape">Antialiased outline.</param>
/// <param name="Tone">Wanted tone inside the outline; null when everything is solid.</param>
internal sealed record PlateDrawing(BytePlane Shape, BytePlane? Tone)
{
    private const int LeastTonePixels = 100;

    /// <summary>
    /// Edges go into the outline; fades and tints go into the tone, with the outline open over them.
    /// </summary>
    public static PlateDrawing From(BytePlane share, BytePlane fade, bool hasFades)
    {
        if (!hasFades || !HasTone(share, fade))
            return new(share, null);
        var shape = new BytePlane(share.Width, share.Height);
        var tone = new BytePlane(share.Width, share.Height);
        RowLoop.Run(
            share.Height,
            share.Width,
            y =>
            {
                var from = share.Row(y);
                var soft = fade.Row(y);
                var outline = shape.Row(y);
                var inside = tone.Row(y);
                for (var x = 0; x < from.Length; x++)
                {
                    var isTone = soft[x] != 0 && from[x] is > 0 and < 255;
                    outline[x] = isTone ? (byte)255 : from[x];
                    inside[x] = isTone ? from[x] : NextTo(share, fade, x, y);
                }
            }
        );
        return new(shape, tone);
    }

    /// <summary>Sum of shares, at most 255.</summary>
    public static BytePlane Sum(IReadOnlyList<BytePlane> shares, int width, int height)
    {
        if (shares.Count == 1)
            return shares[0];
        var sum = new BytePlane(width, height);
        foreach (var share in shares)
            RowLoop.Run(
                height,
                width,
                y =>
                {
                    var from = share.Row(y);
                    var to = sum.Row(y);
                    for (var x = 0; x < to.Length; x++)
                        if (from[x] != 0)
                            to[x] = (byte)Math.Min(255, to[x] + from[x]);
                }
            );
        return sum;
    }

    /// <summary>A few stray pixels of tone are noise at corners; a fade or a tint has a hundred at the very least.</summary>
    private static bool HasTone(BytePlane share, BytePlane fade)
    {
        var count = 0;
        for (var y = 0; y < share.Height; y++)
        {
            var from = share.Row(y);
            var soft = fade.Row(y);
            for (var x = 0; x < soft.Length; x++)
            {
                var skip = soft[x..].IndexOfAnyExcept((byte)0);
                if (skip < 0)
                    break;
                x += skip;
                if (from[x] is > 0 and < 255 && ++count > LeastTonePixels)
                    return true;
            }
        }
        return false;
    }

    /// <summary>
    /// Tone of a pixel that has none of its own: solid, but next to a fade the fade's tone, or the film, which is
    /// interpolated from these pixels, would get a dark rim there.
    /// </summary>
    private static byte NextTo(BytePlane share, BytePlane fade, int x, int y)
    {
        if (share[x, y] >= 250)
            return 255;
        var tone = (byte)0;
        for (var ny = Math.Max(0, y - 1); ny <= Math.Min(share.Height - 1, y + 1); ny++)
        for (var nx = Math.Max(0, x - 1); nx <= Math.Min(share.Width - 1, x + 1); nx++)
            if (fade[nx, ny] != 0 && share[nx, ny] is > 0 and < 255)
                tone = Math.Max(tone, share[nx, ny]);
        return tone == 0 ? (byte)255 : tone;
    }
}
