using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// What the transparency of the art means for plates: a sharp edge becomes the outline of every plate, a fade
/// becomes less ink. A pixel fades when the alphas around it differ by less than half.
/// </summary>
/// <param name="Outline">Antialiased outline; null = the art is opaque.</param>
/// <param name="Fade">Alpha where the art fades, 255 elsewhere; null = nowhere.</param>
internal sealed record ArtCoverage(BytePlane? Outline, BytePlane? Fade)
{
    /// <summary>Tones reach so many pixels past the outline: films are interpolated from them.</summary>
    public const int Rim = 2;

    public static ArtCoverage Of(RgbaRaster art)
    {
        var alpha = new BytePlane(art.Width, art.Height);
        var opaque = new bool[art.Height];
        RowLoop.Run(
            art.Height,
            art.Width,
            y =>
            {
                var from = art.Row(y);
                var to = alpha.Row(y);
                for (var x = 0; x < to.Length; x++)
                    to[x] = (byte)((from[4 * x + 3] * 255 + 32767) / 65535);
                opaque[y] = !to.ContainsAnyExcept((byte)255);
            }
        );
        if (opaque.All(o => o))
            return new(null, null);
        var outline = new BytePlane(art.Width, art.Height);
        var fade = new BytePlane(art.Width, art.Height);
        var fades = new bool[art.Height];
        RowLoop.Run(
            art.Height,
            art.Width * 2,
            y =>
            {
                var row = alpha.Row(y);
                row.CopyTo(outline.Row(y));
                fade.Row(y).Fill(255);
                if (!row.ContainsAnyInRange((byte)1, (byte)254))
                    return;
                for (var x = 0; x < row.Length; x++)
                    if (row[x] is > 0 and < 255 && IsSoft(alpha, x, y))
                    {
                        (outline[x, y], fade[x, y]) = (255, row[x]);
                        fades[y] = true;
                    }
            }
        );
        return new(outline, fades.Any(f => f) ? fade : null);
    }

    private static bool IsSoft(BytePlane alpha, int x, int y)
    {
        var (low, high) = (255, 0);
        for (var ny = Math.Max(0, y - Rim); ny <= Math.Min(alpha.Height - 1, y + Rim); ny++)
        for (var nx = Math.Max(0, x - Rim); nx <= Math.Min(alpha.Width - 1, x + Rim); nx++)
            (low, high) = (Math.Min(low, alpha[nx, ny]), Math.Max(high, alpha[nx, ny]));
        return high - low < 128;
    }

    /// <summary>Index of a pixel within the rim whose colour stands for a transparent one, or -1.</summary>
    public int Neighbour(int x, int y)
    {
        var outline = Outline!;
        var (best, at) = (int.MaxValue, -1);
        for (var ny = Math.Max(0, y - Rim); ny <= Math.Min(outline.Height - 1, y + Rim); ny++)
        for (var nx = Math.Max(0, x - Rim); nx <= Math.Min(outline.Width - 1, x + Rim); nx++)
        {
            if (outline[nx, ny] < 64 || Fade is not null && Fade[nx, ny] != 255)
                continue;
            var distance = (nx - x) * (nx - x) + (ny - y) * (ny - y);
            if (distance < best)
                (best, at) = (distance, ny * outline.Width + nx);
        }
        return at;
    }

    /// <summary>Whether anything is inked in the rows around.</summary>
    public bool AnyNear(int y)
    {
        var outline = Outline!;
        for (var ny = Math.Max(0, y - Rim); ny <= Math.Min(outline.Height - 1, y + Rim); ny++)
            if (outline.Row(ny).ContainsAnyExcept((byte)0))
                return true;
        return false;
    }
}
