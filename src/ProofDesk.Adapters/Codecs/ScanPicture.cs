using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>A scan, decoded in the worker as every stranger's picture is, comes back as the sRGB it was.</summary>
public static class ScanPicture
{
    public static RgbPicture Of(Artwork art)
    {
        var pixels = art.Pixels;
        var picture = new RgbPicture(pixels.Width, pixels.Height, 1);
        RowLoop.Run(
            pixels.Height,
            pixels.Width,
            y =>
            {
                var from = pixels.Row(y);
                var to = picture.Row(y);
                for (var x = 0; x < pixels.Width; x++)
                for (var c = 0; c < 3; c++)
                    to[3 * x + c] = (byte)(255 * Srgb.Encode(from[4 * x + c] / 65535.0) + 0.5);
            }
        );
        return picture;
    }
}
