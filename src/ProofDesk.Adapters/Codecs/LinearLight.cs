using NetVips;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Adapters.Codecs;

/// <summary>sRGB code values to linear light, 16 bits in and out (IEC 61966-2-1, exact formula, one table).</summary>
internal static class LinearLight
{
    private static readonly ushort[] Table = Make();

    /// <summary>Three bands of 16-bit sRGB and an optional 16-bit alpha.</summary>
    public static RgbaRaster From(Image srgb, Image? alpha)
    {
        var raster = new RgbaRaster(srgb.Width, srgb.Height);
        // Strips: the library's copy of the pixels never exists beside ours in full.
        const int Strip = 256;
        for (var top = 0; top < srgb.Height; top += Strip)
        {
            var rows = Math.Min(Strip, srgb.Height - top);
            using var part = srgb.ExtractArea(0, top, srgb.Width, rows);
            var colour = part.WriteToMemory<ushort>();
            using var alphaPart = alpha?.ExtractArea(0, top, srgb.Width, rows);
            var opacity = alphaPart is null ? [] : alphaPart.WriteToMemory<ushort>();
            Convert(colour, opacity, raster.Pixels.AsSpan(checked(top * srgb.Width * 4), rows * srgb.Width * 4));
        }
        return raster;
    }

    private static void Convert(ReadOnlySpan<ushort> colour, ReadOnlySpan<ushort> alpha, Span<ushort> pixels)
    {
        for (int i = 0, c = 0, p = 0; p < pixels.Length; i++, c += 3, p += 4)
        {
            pixels[p] = Table[colour[c]];
            pixels[p + 1] = Table[colour[c + 1]];
            pixels[p + 2] = Table[colour[c + 2]];
            pixels[p + 3] = alpha.IsEmpty ? ushort.MaxValue : alpha[i];
        }
    }

    private static ushort[] Make()
    {
        var table = new ushort[65536];
        for (var i = 0; i < table.Length; i++)
        {
            var code = i / 65535.0;
            var light = code <= 0.04045 ? code / 12.92 : Math.Pow((code + 0.055) / 1.055, 2.4);
            table[i] = (ushort)Math.Round(light * 65535, MidpointRounding.AwayFromZero);
        }
        return table;
    }
}
