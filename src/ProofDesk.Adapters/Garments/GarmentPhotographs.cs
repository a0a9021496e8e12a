using System.Security.Cryptography;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Adapters.Garments;

/// <summary>
/// Photographs of garments as files. Whatever a camera or a stranger put beside the pixels is left behind: what is kept is a PNG of
/// our own, upright, in sRGB. Both the upload and our own file are read in the closed-off child.
/// </summary>
public sealed class GarmentPhotographs(ArtDecoder decoder)
{
    // Only keeps the decoder's print checks quiet; a photograph is not printed.
    private const double NominalWidthMm = 300;

    /// <summary>Shortest side that a photograph may have, px: below it no garment has a pixel a mm.</summary>
    public const int LeastSide = 500;

    /// <summary>The photograph as it is kept: PNG bytes.</summary>
    /// <exception cref="UnreadableArt">Says what is wrong with the file.</exception>
    public async Task<byte[]> KeptAsync(Stream upload, CancellationToken cancel)
    {
        var read = await decoder.DecodeAsync(upload, NominalWidthMm, cancel);
        if (read.Source.Format is not ("jpeg" or "png" or "tiff" or "webp"))
            throw new UnreadableArt(
                "not-a-photograph",
                $"this is a {read.Source.Format} file; a photograph is a jpeg, png, tiff or webp file",
                "send the picture as the camera saved it"
            );
        var (w, h) = (read.Pixels.Width, read.Pixels.Height);
        if (Math.Min(w, h) < LeastSide)
            throw new UnreadableArt(
                "photograph-too-small",
                $"the photograph is {w} x {h} px, its shorter side needs {LeastSide}",
                "send the picture as large as the camera saved it, not a preview of it",
                Math.Min(w, h),
                LeastSide
            );
        var picture = OnWhitePaper.Of(read.Pixels, read.Pixels.Width / NominalWidthMm);
        return Math.Max(w, h) > GarmentPhotograph.MostSide
            ? PictureWriter.Png(picture, GarmentPhotograph.MostSide)
            : PictureWriter.Png(picture);
    }

    /// <summary>The pixels of a kept photograph.</summary>
    /// <exception cref="UnreadableArt">It is no picture.</exception>
    public async Task<RgbPicture> ReadAsync(byte[] kept, CancellationToken cancel)
    {
        using var bytes = new MemoryStream(kept);
        var pixels = (await decoder.DecodeAsync(bytes, NominalWidthMm, cancel)).Pixels;
        return OnWhitePaper.Of(pixels, pixels.Width / NominalWidthMm);
    }

    /// <summary>The garment with the pixels of its photographs; itself where it has none.</summary>
    /// <param name="open">Bytes of a photograph, or null where there are none.</param>
    /// <exception cref="GarmentFormatException">A photograph is missing, or is another one than the garment names.</exception>
    public async Task<Garment> WithPhotographsAsync(
        Garment garment,
        Func<GarmentPhotograph, Task<byte[]?>> open,
        CancellationToken cancel
    )
    {
        if (garment.Shape is not { } shape || !garment.IsPhotographed)
            return garment;
        var views = shape.Views.ToBuilder();
        for (var i = 0; i < views.Count; i++)
        {
            if (views[i].Photograph is not { } named)
                continue;
            var field = $"views[{i}].photograph";
            var file =
                await open(named) ?? throw new GarmentFormatException(field, $"the file {named.FileName} is not there");
            var digest = Convert.ToHexStringLower(SHA256.HashData(file));
            if (digest != named.Sha256)
                throw new GarmentFormatException(
                    field,
                    $"{named.FileName} is another file: its SHA-256 starts with {digest[..12]}, {named.Sha256[..12]} is named"
                );
            RgbPicture pixels;
            try
            {
                pixels = await ReadAsync(file, cancel);
            }
            catch (UnreadableArt unreadable)
            {
                throw new GarmentFormatException(field, $"{unreadable.What}; {unreadable.NextStep}");
            }
            if ((pixels.Width, pixels.Height) != (named.Width, named.Height))
                throw new GarmentFormatException(
                    field,
                    $"{named.FileName} is {pixels.Width} x {pixels.Height} px, {named.Width} x {named.Height} are named"
                );
            views[i] = views[i] with { Photograph = named with { Pixels = pixels, File = [.. file] } };
        }
        return garment with { Shape = shape with { Views = views.ToImmutable() } };
    }
}
