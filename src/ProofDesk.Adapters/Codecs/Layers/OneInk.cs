using NetVips;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>
/// A picture that shows one ink: how much of it stands in each pixel. Grey is read as a film is, dark for ink, by its code
/// values and not by its light: 50 % grey is a tint of 50 %. A picture in one colour tells that colour too.
/// </summary>
/// <param name="Colour">"#rrggbb" at full strength; null for grey, which says nothing about colour.</param>
internal sealed record OneInk(string? Colour, BytePlane Coverage)
{
    /// <summary>Codes a pixel may lie off the mixtures of one colour with white: the noise of a good JPEG.</summary>
    private const int Off = 14;

    /// <summary>Share of pixels that may lie further off.</summary>
    private const double Strays = 0.005;

    /// <summary>From here on a code is white.</summary>
    private const int White = 250;

    /// <summary>The ink of a page; null when it shows several colours.</summary>
    public static OneInk? Of(Image page, DecodeLimits limits, List<Finding> findings)
    {
        using var whole = page.CopyMemory();
        var (bands, hasAlpha) = (whole.Bands, whole.HasAlpha());
        var colours = hasAlpha ? bands - 1 : bands;
        if (colours is not (1 or 3))
            return null;
        var alpha = hasAlpha ? Bytes(whole[bands - 1]) : null;
        if (colours == 1)
            return OfGrey(Bytes(whole[0]), alpha, whole.Width, whole.Height);
        using var bare = whole.ExtractBand(0, 3);
        using var srgb = ProfileReader.ToSrgb(bare, "rgb", limits, findings, out _);
        var pixels = Bytes(srgb);
        return IsGrey(pixels)
            ? OfGrey(EveryThird(pixels), alpha, whole.Width, whole.Height)
            : OfColour(pixels, alpha, whole.Width, whole.Height);
    }

    /// <summary>A shape in white on nothing is white ink: its opacity is what was drawn.</summary>
    private static OneInk OfGrey(byte[] grey, byte[]? alpha, int width, int height)
    {
        var isWhite = alpha is not null && alpha.AsSpan().ContainsAnyExcept(byte.MaxValue);
        for (var i = 0; isWhite && i < grey.Length; i++)
            isWhite = grey[i] >= White || alpha![i] < 6;
        if (isWhite)
            return new("#ffffff", new(width, height, alpha!));
        var coverage = new byte[grey.Length];
        for (var i = 0; i < coverage.Length; i++)
            coverage[i] = (byte)(alpha is null ? 255 - grey[i] : ((255 - grey[i]) * alpha[i] + 127) / 255);
        return new(null, new(width, height, coverage));
    }

    private static OneInk? OfColour(byte[] rgb, byte[]? alpha, int width, int height)
    {
        var onPaper = alpha is null || !alpha.AsSpan().ContainsAnyExcept(byte.MaxValue);
        if (!onPaper && OfOpacity(rgb, alpha!, width, height) is { } shape)
            return shape;
        var paper = onPaper ? rgb : OverWhite(rgb, alpha!);
        if (Strongest(paper) is not { } ink)
            return null;
        double[] step = [ink.R - 255, ink.G - 255, ink.B - 255];
        var length = step[0] * step[0] + step[1] * step[1] + step[2] * step[2];
        var coverage = new byte[width * height];
        var strays = 0L;
        for (var i = 0; i < coverage.Length; i++)
        {
            var (r, g, b) = (paper[3 * i] - 255, paper[3 * i + 1] - 255, paper[3 * i + 2] - 255);
            var t = Math.Clamp((r * step[0] + g * step[1] + b * step[2]) / length, 0, 1);
            var off = Math.Max(
                Math.Abs(r - t * step[0]),
                Math.Max(Math.Abs(g - t * step[1]), Math.Abs(b - t * step[2]))
            );
            strays += off > Off ? 1 : 0;
            coverage[i] = (byte)Math.Round(255 * t);
        }
        return strays > Strays * coverage.Length
            ? null
            : new($"#{(int)ink.R:x2}{(int)ink.G:x2}{(int)ink.B:x2}", new(width, height, coverage));
    }

    /// <summary>All that can be seen has one colour: then opacity is coverage.</summary>
    private static OneInk? OfOpacity(byte[] rgb, byte[] alpha, int width, int height)
    {
        long r = 0,
            g = 0,
            b = 0,
            weight = 0;
        for (var i = 0; i < alpha.Length; i++)
        {
            if (alpha[i] < 128)
                continue;
            (r, g, b) = (r + rgb[3 * i] * alpha[i], g + rgb[3 * i + 1] * alpha[i], b + rgb[3 * i + 2] * alpha[i]);
            weight += alpha[i];
        }
        if (weight == 0)
            return null;
        var (mr, mg, mb) = ((int)(r / weight), (int)(g / weight), (int)(b / weight));
        long strays = 0,
            seen = 0;
        for (var i = 0; i < alpha.Length; i++)
        {
            if (alpha[i] < 128)
                continue;
            seen++;
            if (
                Math.Max(
                    Math.Abs(rgb[3 * i] - mr),
                    Math.Max(Math.Abs(rgb[3 * i + 1] - mg), Math.Abs(rgb[3 * i + 2] - mb))
                ) > Off
            )
                strays++;
        }
        return strays > Strays * seen ? null : new($"#{mr:x2}{mg:x2}{mb:x2}", new(width, height, alpha));
    }

    /// <summary>The colour farthest from white, as a mean of the pixels near it, so that one odd pixel decides nothing.</summary>
    private static (double R, double G, double B)? Strongest(byte[] rgb)
    {
        // By distance from white in codes, a bin each; a thousandth of the pixels may be odd.
        var far = new long[443];
        for (var i = 0; i < rgb.Length; i += 3)
            far[Far(rgb, i)]++;
        var (bin, count, odd) = (far.Length - 1, 0L, rgb.Length / 3 / 1000);
        while (bin > 0 && (count += far[bin]) <= odd)
            bin--;
        if (bin < 16)
            return null;
        double r = 0,
            g = 0,
            b = 0,
            near = 0;
        for (var i = 0; i < rgb.Length; i += 3)
            if (Math.Abs(Far(rgb, i) - bin) <= 4)
                (r, g, b, near) = (r + rgb[i], g + rgb[i + 1], b + rgb[i + 2], near + 1);
        return (Math.Round(r / near), Math.Round(g / near), Math.Round(b / near));
    }

    private static int Far(byte[] rgb, int at)
    {
        var (r, g, b) = (255 - rgb[at], 255 - rgb[at + 1], 255 - rgb[at + 2]);
        return (int)Math.Sqrt(r * r + g * g + b * b);
    }

    private static byte[] OverWhite(byte[] rgb, byte[] alpha)
    {
        var paper = new byte[rgb.Length];
        for (var i = 0; i < rgb.Length; i++)
            paper[i] = (byte)(255 - ((255 - rgb[i]) * alpha[i / 3] + 127) / 255);
        return paper;
    }

    private static bool IsGrey(byte[] rgb)
    {
        for (var i = 0; i < rgb.Length; i += 3)
            if (Math.Abs(rgb[i] - rgb[i + 1]) > 3 || Math.Abs(rgb[i] - rgb[i + 2]) > 3)
                return false;
        return true;
    }

    private static byte[] EveryThird(byte[] rgb)
    {
        var grey = new byte[rgb.Length / 3];
        for (var i = 0; i < grey.Length; i++)
            grey[i] = rgb[3 * i];
        return grey;
    }

    /// <summary>Code values in 8 bits; 16 are rounded.</summary>
    private static byte[] Bytes(Image image)
    {
        using (image)
        {
            if (image.Format == Enums.BandFormat.Uchar)
                return image.WriteToMemory<byte>();
            var wide = image.WriteToMemory<ushort>();
            var bytes = new byte[wide.Length];
            for (var i = 0; i < bytes.Length; i++)
                bytes[i] = (byte)((wide[i] + 128) / 257);
            return bytes;
        }
    }
}
