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

    /// <summary>Films are interpolated from so many pixels to each side.</summary>
    private const int Rim = 2;

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
                from.CopyTo(outline);
                inside.Fill(255);
                Span<byte> near = new byte[soft.Length];
                for (var ny = Math.Max(0, y - Rim); ny <= Math.Min(share.Height - 1, y + Rim); ny++)
                {
                    var other = fade.Row(ny);
                    for (var x = 0; x < near.Length; x++)
                        near[x] |= other[x];
                }
                for (var x = 0; x < near.Length; x++)
                {
                    var skip = near[x..].IndexOfAnyExcept((byte)0);
                    if (skip < 0)
                        break;
                    x += skip;
                    for (var nx = Math.Max(0, x - Rim); nx <= Math.Min(near.Length - 1, x + Rim); nx++)
                        if (soft[nx] == 0 || from[nx] is 0 or 255)
                            inside[nx] = NextTo(share, fade, nx, y);
                    if (soft[x] != 0 && from[x] is > 0 and < 255)
                        (outline[x], inside[x]) = (255, from[x]);
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
                    {
                        var skip = from[x..].IndexOfAnyExcept((byte)0);
                        if (skip < 0)
                            break;
                        unchecked
                        {
                            for (x += skip; x < to.Length && from[x] != 0; x++)
                                to[x] = (byte)Math.Min(255, to[x] + from[x]);
                        }
                    }
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
        for (var ny = Math.Max(0, y - Rim); ny <= Math.Min(share.Height - 1, y + Rim); ny++)
        for (var nx = Math.Max(0, x - Rim); nx <= Math.Min(share.Width - 1, x + Rim); nx++)
            if (fade[nx, ny] != 0 && share[nx, ny] is > 0 and < 255)
                tone = Math.Max(tone, share[nx, ny]);
        return tone == 0 ? (byte)255 : tone;
    }
}
