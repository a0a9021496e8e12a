using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Tests.Codecs;

internal static class Reading
{
    public static async Task<Artwork> Read(string path, double widthMm = 100, DecodeLimits? limits = null)
    {
        try
        {
            return await new ArtDecoder(limits).DecodeAsync(path, widthMm, CancellationToken.None);
        }
        catch (UnreadableArt e) when (e.ForTheLog is not null)
        {
            throw new InvalidOperationException(e.ForTheLog, e);
        }
    }

    public static Task<Artwork> Read(byte[] file, double widthMm = 100, DecodeLimits? limits = null) =>
        new ArtDecoder(limits).DecodeAsync(new MemoryStream(file), widthMm, CancellationToken.None);

    public static async Task<UnreadableArt> Refused(byte[] file, DecodeLimits? limits = null) =>
        await Assert.ThrowsAsync<UnreadableArt>(() => Read(file, 100, limits));

    /// <summary>Linear R, G, B and alpha of a pixel, 0..1.</summary>
    public static double[] Pixel(this Artwork art, int x, int y) =>
        [.. art.Pixels.Row(y).Slice(4 * x, 4).ToArray().Select(v => v / 65535.0)];

    /// <summary>sRGB code value 0..255 to linear light, written out again so that it judges the decoder's table.</summary>
    public static double Light(double code) =>
        code / 255 <= 0.04045 ? code / 255 / 12.92 : Math.Pow((code / 255 + 0.055) / 1.055, 2.4);
}
