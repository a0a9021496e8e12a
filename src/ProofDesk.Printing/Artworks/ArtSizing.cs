using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>Decoded art becomes art of a size: background answered, cropped to its inked extent, in millimetres.</summary>
public static class ArtSizing
{
    /// <summary>Finer art than this is averaged down: a film at 1440 dpi shows no more, and memory goes with the square.</summary>
    public const double FinestDpi = 600;

    /// <summary>Fainter than this (2 %) no mesh prints, so it is not inked extent.</summary>
    internal const ushort FaintestAlpha = 1311;

    /// <summary>
    /// Sizes the art so that its inked extent is <paramref name="widthMm"/> wide. Whatever the client should know comes
    /// as <see cref="SizedArt.Findings"/>, behind those of the decoder.
    /// </summary>
    /// <exception cref="ArgumentException">The width is not a positive number.</exception>
    public static SizedArt Size(Artwork artwork, double widthMm, BackgroundChoice background)
    {
        if (!(widthMm > 0) || !double.IsFinite(widthMm))
            throw new ArgumentException($"the inked extent is {widthMm} mm wide, a positive number is needed");
        var findings = artwork.Findings.ToBuilder();
        var codes = new SrgbCodes();
        var pixels = Answered(artwork, background, codes, findings);
        var crop = InkedExtent(pixels);
        if (crop is not { } inked)
        {
            findings.Add(ArtChecks.NothingToPrint(artwork, background));
            return new(new RgbaRaster(1, 1), widthMm, widthMm, artwork, 0, 0, findings.ToImmutable());
        }
        var dpi = inked.Width / widthMm * 25.4;
        findings.AddRange(ArtChecks.Extent(artwork, inked, widthMm));
        if (!artwork.Source.IsVector)
            findings.AddRange(ArtChecks.Pixels(inked.Width, widthMm));
        var layers = SizedLayers.Crop(SizedLayers.Within(artwork.Layers, artwork.Pixels, pixels), inked);
        pixels = Crop(pixels, inked);
        if (dpi > FinestDpi * 1.1)
            pixels = AreaAverage.Shrink(pixels, Math.Max(1, (int)Math.Round(inked.Width * FinestDpi / dpi)));
        findings.AddRange(ArtChecks.Drawing(pixels, pixels.Width / widthMm));
        if (!artwork.Source.IsVector)
            findings.AddRange(new[] { CutOutFringe.Of(pixels), Dithering.Of(pixels, codes) }.OfType<Finding>());
        return new(
            pixels,
            widthMm,
            widthMm * inked.Height / inked.Width,
            artwork,
            inked.Left,
            inked.Top,
            findings.ToImmutable()
        )
        {
            Layers = SizedLayers.Shrink(layers, pixels.Width, pixels.Height),
        };
    }

    private static RgbaRaster Answered(
        Artwork artwork,
        BackgroundChoice choice,
        SrgbCodes codes,
        ImmutableArray<Finding>.Builder findings
    )
    {
        if (choice == BackgroundChoice.Print || Background.Find(artwork.Pixels, codes) is not { } background)
            return artwork.Pixels;
        var plain = background.BorderShare > 0.5;
        if (choice == BackgroundChoice.AsGiven)
        {
            findings.Add(ArtChecks.OpaqueBackground(background, plain));
            if (plain && PaperTint.Of(background) is { } paper)
                findings.Add(paper);
            return artwork.Pixels;
        }
        if (!plain)
        {
            findings.Add(ArtChecks.BackgroundNotPlain(background));
            return artwork.Pixels;
        }
        if (artwork.Layers.Length > 0)
            findings.Add(ArtChecks.DroppedFromLayers(artwork.Layers));
        return BackgroundDrop.Drop(artwork.Pixels, background, codes);
    }

    private static Island? InkedExtent(RgbaRaster pixels)
    {
        var (left, top, right, bottom) = (int.MaxValue, -1, -1, -1);
        for (var y = 0; y < pixels.Height; y++)
        {
            var row = pixels.Row(y);
            var first = 0;
            while (first < pixels.Width && row[4 * first + 3] < FaintestAlpha)
                first++;
            if (first == pixels.Width)
                continue;
            var last = pixels.Width - 1;
            while (row[4 * last + 3] < FaintestAlpha)
                last--;
            (left, right, bottom) = (Math.Min(left, first), Math.Max(right, last), y);
            top = top < 0 ? y : top;
        }
        return top < 0 ? null : new Island(0, left, top, right, bottom, false);
    }

    private static RgbaRaster Crop(RgbaRaster pixels, Island inked)
    {
        if (inked.Width == pixels.Width && inked.Height == pixels.Height)
            return pixels;
        var cropped = new RgbaRaster(inked.Width, inked.Height);
        for (var y = 0; y < inked.Height; y++)
            pixels.Row(inked.Top + y).Slice(4 * inked.Left, 4 * inked.Width).CopyTo(cropped.Row(y));
        return cropped;
    }
}
