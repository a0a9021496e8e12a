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
    /// Edges go into the outline; fades and tints go into the tone, with the outline open over them. Next to a fade the
    /// tone of a pixel that has none of its own is the fade's, or the film, which is interpolated from these pixels,
    /// would get a dark rim there.
    /// </summary>
    public static PlateDrawing From(BytePlane share, BytePlane fade, bool hasFades)
    {
        if (!hasFades || !HasTone(share, fade))
            return new(share, null);
        var shape = new BytePlane(share.Width, share.Height);
        var tone = new BytePlane(share.Width, share.Height);
        RowLoop.RunBands(
            share.Height,
            64,
            (top, count) =>
            {
                var scratch = new byte[SoftTones.Scratch(share.Width, Rim)];
                for (var y = top; y < top + count; y++)
                    SoftTones.Row(share, fade, y, Rim, scratch, shape, tone);
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
        if (shares.Count == 0)
            return sum;
        RowLoop.Run(
            height,
            width * shares.Count,
            y =>
            {
                var to = sum.Row(y);
                shares[0].Row(y).CopyTo(to);
                for (var i = 1; i < shares.Count; i++)
                    SoftTones.Add(to, shares[i].Row(y));
            }
        );
        return sum;
    }

    /// <summary>A few stray pixels of tone are noise at corners; a fade or a tint has a hundred at the very least.</summary>
    private static bool HasTone(BytePlane share, BytePlane fade)
    {
        var count = 0;
        for (var y = 0; y < share.Height && count <= LeastTonePixels; y++)
            count += SoftTones.Count(share.Row(y), fade.Row(y));
        return count > LeastTonePixels;
    }
}
