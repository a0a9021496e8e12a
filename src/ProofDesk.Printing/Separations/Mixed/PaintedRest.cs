using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>The painted part of mixed art.</summary>
internal static class PaintedRest
{
    /// <summary>Less of a flat colour than this in a pixel does not show in its tone.</summary>
    private const byte Trace = 6;

    /// <summary>The art without its flat areas: transparent there. What is counted when inks are chosen.</summary>
    public static RgbaRaster Without(RgbaRaster art, BytePlane flat)
    {
        var rest = new RgbaRaster(art.Width, art.Height, [.. art.Pixels]);
        RowLoop.Run(
            art.Height,
            art.Width,
            y =>
            {
                var row = rest.Row(y);
                var share = flat.Row(y);
                for (var x = share.IndexOfAnyExcept((byte)0); x >= 0 && x < share.Length; x++)
                    if (share[x] > Trace)
                        row.Slice(4 * x, 4).Clear();
            }
        );
        return rest;
    }

    /// <summary>
    /// Carries the painted pixels on under the flat areas, each from the nearest one outside, so that tones reach the seam clean and
    /// run on under it.
    /// </summary>
    /// <param name="rest">As <see cref="Without"/> made it; filled.</param>
    public static void Extend(RgbaRaster rest, BytePlane flat)
    {
        var (width, height) = (rest.Width, rest.Height);
        var open = new bool[(long)width * height];
        var hidden = 0L;
        for (var i = 0; i < open.Length; i++)
            if (open[i] = flat.Pixels[i] > Trace)
                hidden++;
        if (hidden == open.Length)
            return;
        var reached = new Queue<int>();
        for (var y = 0; y < height; y++)
        {
            var row = open.AsSpan(y * width, width);
            for (var x = row.IndexOf(true); x >= 0 && x < width; x++)
                if (row[x] && Outside(open, x, y, width, height) is >= 0 and var from)
                {
                    Copy(rest, from, y * width + x);
                    reached.Enqueue(y * width + x);
                }
        }
        foreach (var pixel in reached)
            open[pixel] = false;
        while (reached.TryDequeue(out var pixel))
        {
            var (x, y) = (pixel % width, pixel / width);
            for (var ny = Math.Max(0, y - 1); ny <= Math.Min(height - 1, y + 1); ny++)
            for (var nx = Math.Max(0, x - 1); nx <= Math.Min(width - 1, x + 1); nx++)
            {
                var next = ny * width + nx;
                if (!open[next])
                    continue;
                open[next] = false;
                Copy(rest, pixel, next);
                reached.Enqueue(next);
            }
        }
    }

    /// <summary>What the cloth is to show becomes transparent, antialiased: base and colours end there as at any edge of the art.</summary>
    public static void LeaveToCloth(RgbaRaster rest, BytePlane cloth) =>
        RowLoop.Run(
            rest.Height,
            rest.Width,
            y =>
            {
                var row = rest.Row(y);
                var share = cloth.Row(y);
                for (var x = share.IndexOfAnyExcept((byte)0); x >= 0 && x < share.Length; x++)
                    row[4 * x + 3] = (ushort)(row[4 * x + 3] * (255 - share[x]) / 255);
            }
        );

    private static int Outside(bool[] open, int x, int y, int width, int height)
    {
        // Over a side before over a corner: that one is nearer.
        for (var corners = 0; corners < 2; corners++)
        for (var ny = Math.Max(0, y - 1); ny <= Math.Min(height - 1, y + 1); ny++)
        for (var nx = Math.Max(0, x - 1); nx <= Math.Min(width - 1, x + 1); nx++)
            if ((nx != x && ny != y) == (corners == 1) && !open[ny * width + nx])
                return ny * width + nx;
        return -1;
    }

    private static void Copy(RgbaRaster raster, int from, int to) =>
        raster.Pixels.AsSpan(4 * from, 4).CopyTo(raster.Pixels.AsSpan(4 * to, 4));
}
