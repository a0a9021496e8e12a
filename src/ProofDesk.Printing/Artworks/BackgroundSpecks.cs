using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>
/// Compression leaves pixels of nearly the background's colour around a drawing, too far from it to be dropped with it. Left in,
/// each becomes a speck of white ink on dark cloth. Patches that lie on the dropped background, fit into one block of
/// a compressed picture and are pale against it go as well.
/// </summary>
internal static class BackgroundSpecks
{
    /// <summary>The block of JPEG (ITU-T T.81), pixels.</summary>
    private const int Block = 8;

    /// <summary>Distance from the background, in codes, that compression reaches beside a hard edge; a pale grey of #d6d6d6 on white is as far.</summary>
    private const double Reach = 72;

    /// <summary>Clears them in <paramref name="art"/>, whose background is transparent already.</summary>
    public static void Clear(RgbaRaster art, Background background, SrgbCodes codes)
    {
        var (width, height) = (art.Width, art.Height);
        var waiting = new bool[(long)width * height];
        for (var i = 0; i < waiting.Length; i++)
            waiting[i] = IsPale(art.Pixels.AsSpan(i * 4, 4), background, codes);
        var patch = new List<int>();
        for (var start = 0; start < waiting.Length; start++)
        {
            if (!waiting[start])
                continue;
            patch.Clear();
            patch.Add(start);
            waiting[start] = false;
            var (left, right, top, bottom) = (width, -1, height, -1);
            var onBackground = false;
            for (var i = 0; i < patch.Count; i++)
            {
                var (x, y) = (patch[i] % width, patch[i] / width);
                (left, right) = (Math.Min(left, x), Math.Max(right, x));
                (top, bottom) = (Math.Min(top, y), Math.Max(bottom, y));
                for (var ny = Math.Max(0, y - 1); ny <= Math.Min(height - 1, y + 1); ny++)
                for (var nx = Math.Max(0, x - 1); nx <= Math.Min(width - 1, x + 1); nx++)
                {
                    var next = ny * width + nx;
                    onBackground |= art.Pixels[next * 4 + 3] == 0;
                    if (!waiting[next])
                        continue;
                    waiting[next] = false;
                    patch.Add(next);
                }
            }
            if (onBackground && right - left < Block && bottom - top < Block)
                foreach (var pixel in patch)
                    art.Pixels.AsSpan(pixel * 4, 4).Clear();
        }
    }

    private static bool IsPale(ReadOnlySpan<ushort> pixel, Background background, SrgbCodes codes)
    {
        if (pixel[3] == 0)
            return false;
        var (r, g, b) = (
            codes[pixel[0]] - background.R,
            codes[pixel[1]] - background.G,
            codes[pixel[2]] - background.B
        );
        return r * r + g * g + b * b < Reach * Reach;
    }
}
