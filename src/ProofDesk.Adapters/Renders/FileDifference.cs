using System.Globalization;
using System.Numerics;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Adapters.Renders;

/// <summary>Says in words where two files differ: in rows and dots where they are pictures or films of ours, else in lines or bytes.</summary>
internal static class FileDifference
{
    private const string Packed = "other bytes, but the same dots: described or packed otherwise";

    /// <param name="bound">From a packet: a stranger's bytes until the digests were compared, and perhaps a dishonest shop's after that.</param>
    /// <returns>Null for the same bytes.</returns>
    public static async Task<string?> OfAsync(
        byte[] bound,
        byte[] made,
        string mediaType,
        ArtDecoder decoder,
        CancellationToken cancel
    )
    {
        if (bound.AsSpan().SequenceEqual(made))
            return null;
        return mediaType switch
            {
                "image/tiff" => Films(bound, made),
                "image/png" => await PicturesAsync(bound, made, decoder, cancel),
                "text/csv" or "text/plain" or "application/json" or "image/svg+xml" => Lines(bound, made),
                _ => null,
            } ?? Bytes(bound, made);
    }

    private static string? Films(byte[] bound, byte[] made)
    {
        try
        {
            var (one, other) = (new G4TiffReader(bound), new G4TiffReader(made));
            if ((one.Width, one.Height) != (other.Width, other.Height))
                return Sizes(one.Width, one.Height, other.Width, other.Height);
            var (was, now) = (one.Read(), other.Read());
            return Rows(
                was.Width,
                was.Height,
                y =>
                {
                    var differing = 0;
                    for (var word = 0; word < was.Stride; word++)
                        differing += BitOperations.PopCount(was.Row(y)[word] ^ now.Row(y)[word]);
                    return differing;
                }
            );
        }
        catch (InvalidDataException)
        {
            // Not a film of dots: a device that makes its own gets tones.
            return null;
        }
    }

    /// <summary>Both are read where strangers' pictures are read: shut in.</summary>
    private static async Task<string?> PicturesAsync(
        byte[] bound,
        byte[] made,
        ArtDecoder decoder,
        CancellationToken cancel
    )
    {
        try
        {
            var was = (await decoder.DecodeAsync(new MemoryStream(bound), 100, cancel)).Pixels;
            var now = (await decoder.DecodeAsync(new MemoryStream(made), 100, cancel)).Pixels;
            if ((was.Width, was.Height) != (now.Width, now.Height))
                return Sizes(was.Width, was.Height, now.Width, now.Height);
            return Rows(
                was.Width,
                was.Height,
                y =>
                {
                    var differing = 0;
                    for (var x = 0; x < was.Width; x++)
                        differing += was.Row(y).Slice(4 * x, 4).SequenceEqual(now.Row(y).Slice(4 * x, 4)) ? 0 : 1;
                    return differing;
                }
            );
        }
        catch (UnreadableArt)
        {
            return null;
        }
    }

    private static string Lines(byte[] bound, byte[] made)
    {
        var at = bound.AsSpan().CommonPrefixLength(made);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"differs: first differing line {bound.AsSpan(0, at).Count((byte)'\n') + 1}, byte {at + 1} of {bound.Length}"
        );
    }

    private static string Bytes(byte[] bound, byte[] made) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"differs: first differing byte {bound.AsSpan().CommonPrefixLength(made) + 1} of {bound.Length}"
        );

    private static string Sizes(int width, int height, int madeWidth, int madeHeight) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"differs: {width} x {height} dots bound, {madeWidth} x {madeHeight} made again"
        );

    /// <param name="differingOf">How many dots of a row differ.</param>
    private static string Rows(int width, int height, Func<int, int> differingOf)
    {
        var (first, differing) = (-1, 0L);
        for (var y = 0; y < height; y++)
        {
            var here = differingOf(y);
            first = first < 0 && here > 0 ? y : first;
            differing += here;
        }
        return differing == 0
            ? Packed
            : string.Create(
                CultureInfo.InvariantCulture,
                $"differs: first differing row {first + 1} of {height}, {differing} of {(long)width * height} dots"
            );
    }
}
