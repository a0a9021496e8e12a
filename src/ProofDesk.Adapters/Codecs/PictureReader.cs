using System.Buffers.Binary;
using NetVips;
using ProofDesk.Adapters.Codecs.Layers;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// The decoding itself; runs inside the worker. Header first, then the limits, then pixels: profile to sRGB at
/// 16 bits by the colour engine, sRGB to linear light by the exact formula.
/// </summary>
internal static class PictureReader
{
    /// <summary>Dots per inch an SVG is drawn at over its inked width: finer than any mesh holds.</summary>
    public const double VectorDpi = 600;

    public static DecodedPicture Read(byte[] file, double printWidthMm, DecodeLimits limits)
    {
        var format = ArtFormat.Of(file);
        Vips.Prepare();
        var findings = new List<Finding>();
        try
        {
            return format switch
            {
                ArtFormat.Svg => ReadVector(file, printWidthMm, limits, findings),
                ArtFormat.Zip => ZipLayers.Read(file, limits, findings),
                _ => ReadRaster(file, format, limits, findings),
            };
        }
        catch (VipsException)
        {
            throw new UnreadableArt(
                "damaged",
                $"the {format} file is cut short or damaged",
                "export it again from the program that made it and send the whole file"
            );
        }
    }

    private static DecodedPicture ReadRaster(byte[] file, string format, DecodeLimits limits, List<Finding> findings)
    {
        using var header = Image.NewFromBuffer(file, failOn: Enums.FailOn.Truncated);
        if (format == ArtFormat.Tiff && HeaderChecks.PagesOf(header, limits) is > 1 and var pages)
        {
            HeaderChecks.CheckPixels(header, file.Length, format, limits);
            if (TiffLayers.Read(file, pages, limits, findings) is { } layered)
                return layered;
        }
        HeaderChecks.Check(header, file.Length, format, limits, findings);
        var model = HeaderChecks.ColourModel(header, format);
        if (format == ArtFormat.Jpeg && JpegQuality.Finding(file) is { } compressed)
            findings.Add(compressed);
        using var upright = header.Autorot();
        using var whole = upright.CopyMemory();
        var hasAlpha = whole.HasAlpha();
        using var colour = hasAlpha ? whole.ExtractBand(0, whole.Bands - 1) : whole.Copy();
        var bits = header.Format == Enums.BandFormat.Ushort ? 16 : 8;
        using var srgb = ProfileReader.ToSrgb(colour, model, limits, findings, out var profile);
        using var alpha = hasAlpha ? Alpha16(whole[whole.Bands - 1], bits) : null;
        var pixels = LinearLight.From(srgb, alpha);
        return new(pixels, new(format, pixels.Width, pixels.Height, bits, model, profile, hasAlpha, false), findings);
    }

    private static Image Alpha16(Image alpha, int bits) =>
        bits == 16 ? alpha.Cast(Enums.BandFormat.Ushort) : (alpha * 257).Cast(Enums.BandFormat.Ushort);

    private static DecodedPicture ReadVector(
        byte[] file,
        double printWidthMm,
        DecodeLimits limits,
        List<Finding> findings
    )
    {
        var (document, said) = SvgText.Sanitise(file);
        findings.AddRange(said);
        using var natural = Image.SvgloadBuffer(document, dpi: 96);
        if (natural.Width < 1 || natural.Height < 1)
            throw new UnreadableArt(
                "svg-without-size",
                "the svg has no size",
                "give it a width, a height and a viewBox"
            );
        var scale = VectorScale(document, natural, printWidthMm, limits);
        using var drawn = Image.SvgloadBuffer(document, dpi: 96, scale: scale);
        using var whole = drawn.CopyMemory();
        using var colour = whole.ExtractBand(0, 3);
        using var alpha = Alpha16(whole[3], 8);
        using var wide = (colour * 257).Cast(Enums.BandFormat.Ushort);
        var layers = SvgLayerDrawing.Draw(document, scale, (whole.Width, whole.Height), limits, findings);
        // Where every layer is drawn in film black, the drawing is no picture of the print.
        var pixels =
            layers.Count > 0 && layers.All(l => l.Colour is null)
                ? LayerStack.Compose(layers)
                : LinearLight.From(wide, alpha);
        var words = SvgWords.Of(document, limits.MaxWords);
        findings.AddRange(FoundText.Of(words));
        return new(pixels, new(ArtFormat.Svg, pixels.Width, pixels.Height, 8, "rgb", null, true, true), findings)
        {
            Layers = [.. layers],
            Words = words,
        };
    }

    /// <summary>A small drawing finds the inked share of the canvas; the real one gives that share its 600 dpi.</summary>
    private static double VectorScale(byte[] document, Image natural, double printWidthMm, DecodeLimits limits)
    {
        var trial = 1000.0 / Math.Max(natural.Width, natural.Height);
        using var small = Image.SvgloadBuffer(document, dpi: 96, scale: trial);
        using var whole = small.CopyMemory();
        using var alpha = whole[3];
        var found = alpha.FindTrim(threshold: 1, background: [0]);
        var inked = (int)found[2] < 1 ? 1.0 : (int)found[2] / (double)whole.Width;
        var wanted = printWidthMm / 25.4 * VectorDpi / (natural.Width * inked);
        var byPixels = Math.Sqrt(limits.MaxVectorPixels / ((double)natural.Width * natural.Height));
        var bySide = (limits.MaxSide - 1.0) / Math.Max(natural.Width, natural.Height);
        return Math.Min(wanted, Math.Min(byPixels, bySide));
    }
}
