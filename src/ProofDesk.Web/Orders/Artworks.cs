using System.Collections.Immutable;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Web.Orders;

/// <summary>Stored art, decoded again whenever a page needs to look at it.</summary>
public sealed class Artworks(IFileStore files, ArtDecoder decoder)
{
    private const int MostPreviewSide = 480;

    /// <param name="page">Page of a PDF, from 1; null for the first.</param>
    public async Task<Artwork> ReadAsync(string sha256, double widthMm, int? page, CancellationToken cancel)
    {
        await using var file = files.Open(sha256);
        return await decoder.DecodeAsync(file, new ArtWish(widthMm) { Page = page ?? 1 }, cancel);
    }

    /// <summary>Art of an order's print, as the order has it read.</summary>
    public Task<Artwork> ReadAsync(OrderPrint print, CancellationToken cancel) =>
        ReadAsync(print.ArtSha256, print.WidthUm / 1000.0, PrintOptions.Of(print.Options).PdfPage, cancel);

    /// <summary>Lines of text that stand in the file as text; none in formats that cannot hold any.</summary>
    public async Task<ImmutableArray<string>> FoundWordsAsync(OrderPrint print, CancellationToken cancel)
    {
        if (!MayHoldText(print.ArtMediaType))
            return [];
        try
        {
            return (await ReadAsync(print, cancel)).Words;
        }
        catch (UnreadableArt)
        {
            // Whoever renders it says why.
            return [];
        }
    }

    /// <summary>Formats that can hold text as text; in others it is drawn.</summary>
    public static bool MayHoldText(string mediaType) => mediaType is MediaTypes.Pdf or MediaTypes.Svg;

    public static string MediaType(Artwork art) =>
        art.Source.Format == "pdf" ? MediaTypes.Pdf
        : art.Source.Format == "svg" ? MediaTypes.Svg
        : art.Source.Format == "zip" ? MediaTypes.Zip
        : "image/" + art.Source.Format;

    private static class MediaTypes
    {
        public const string Pdf = "application/pdf";
        public const string Svg = "image/svg+xml";
        public const string Zip = "application/zip";
    }

    /// <summary>Whether no pixel lets the cloth through: then somebody must say what the background is.</summary>
    public static bool IsOpaque(Artwork art)
    {
        var pixels = art.Pixels.Pixels;
        for (var i = 3; i < pixels.Length; i += 4)
        {
            if (pixels[i] < 65000)
                return false;
        }
        return true;
    }

    /// <summary>One answer to the background question drawn: the art lying on the cloth's colour, nothing simulated.</summary>
    public static byte[] OnCloth(Artwork art, double widthMm, BackgroundChoice choice, GarmentColour cloth) =>
        OnCloth(ArtSizing.Size(art, widthMm, choice), cloth, MostPreviewSide, MostPreviewSide / 12);

    /// <summary>Sized art lying on the cloth's colour, nothing simulated.</summary>
    /// <param name="margin">Cloth around it, px.</param>
    public static byte[] OnCloth(SizedArt art, GarmentColour cloth, int mostSide, int margin)
    {
        var (sized, widthMm) = (art.Pixels, art.WidthMm);
        var step = Math.Max(1, (Math.Max(sized.Width, sized.Height) + mostSide - 1) / mostSide);
        var (width, height) = (sized.Width / step, sized.Height / step);
        width = Math.Max(1, width);
        height = Math.Max(1, height);
        var picture = new RgbPicture(width + 2 * margin, height + 2 * margin, width / widthMm);
        var ground = Srgb.FromXyz(Tristimulus.Of(cloth.Reflectance, ViewingLight.D65), ViewingLight.D65);
        double[] back = [ground.R, ground.G, ground.B];
        for (var y = 0; y < picture.Height; y++)
        {
            var row = picture.Row(y);
            for (var x = 0; x < picture.Width; x++)
            {
                var (sum, alpha) = Mean(sized, (x - margin) * step, (y - margin) * step, step);
                for (var c = 0; c < 3; c++)
                    row[3 * x + c] = (byte)
                        Math.Round(255 * Srgb.Encode(Math.Clamp(sum[c] + (1 - alpha) * back[c], 0, 1)));
            }
        }
        return PictureWriter.Png(picture);
    }

    // Mean of one preview cell, premultiplied; outside the art there is cloth.
    private static (double[] Sum, double Alpha) Mean(RgbaRaster art, int left, int top, int step)
    {
        var sum = new double[3];
        var alpha = 0.0;
        for (var y = Math.Max(top, 0); y < Math.Min(top + step, art.Height); y++)
        {
            if (left < 0 || left >= art.Width)
                break;
            var row = art.Row(y);
            for (var x = left; x < Math.Min(left + step, art.Width); x++)
            {
                var a = row[4 * x + 3] / 65535.0;
                alpha += a;
                for (var c = 0; c < 3; c++)
                    sum[c] += a * row[4 * x + c] / 65535.0;
            }
        }
        var cell = (double)step * step;
        for (var c = 0; c < 3; c++)
            sum[c] /= cell;
        return (sum, alpha / cell);
    }
}
