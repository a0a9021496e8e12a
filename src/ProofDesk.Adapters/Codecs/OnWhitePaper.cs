using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Adapters.Codecs;

/// <summary>A decoded photograph as a picture to look at: sRGB bytes, and what is transparent lies on white paper.</summary>
public static class OnWhitePaper
{
    // Linear 16-bit values to sRGB bytes.
    private static readonly byte[] Encoded =
    [
        .. Enumerable.Range(0, 65536).Select(value => (byte)Math.Round(255 * Srgb.Encode(value / 65535.0))),
    ];

    public static RgbPicture Of(RgbaRaster pixels, double pixelsPerMm)
    {
        var picture = new RgbPicture(pixels.Width, pixels.Height, pixelsPerMm);
        RowLoop.Run(
            pixels.Height,
            pixels.Width,
            y =>
            {
                var from = pixels.Row(y);
                var to = picture.Row(y);
                for (var x = 0; x < pixels.Width; x++)
                {
                    long alpha = from[4 * x + 3];
                    for (var c = 0; c < 3; c++)
                        to[3 * x + c] = Encoded[(from[4 * x + c] * alpha + 65535L * (65535 - alpha)) / 65535];
                }
            }
        );
        return picture;
    }
}
