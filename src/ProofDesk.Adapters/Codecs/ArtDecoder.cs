using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// Reads strangers' pictures in a child process, so that a fault in a decoder ends the child and nothing else.
/// </summary>
public sealed class ArtDecoder(DecodeLimits? limits = null)
{
    public DecodeLimits Limits { get; } = limits ?? DecodeLimits.Default;

    /// <summary>Decodes the file at <paramref name="path"/>.</summary>
    /// <param name="printWidthMm">Width of the print: decides how finely an SVG is drawn.</param>
    /// <exception cref="UnreadableArt">The file cannot be used as art.</exception>
    public async Task<Artwork> DecodeAsync(string path, double printWidthMm, CancellationToken cancel)
    {
        await using var file = File.OpenRead(path);
        return await DecodeAsync(file, printWidthMm, cancel);
    }

    /// <summary>Decodes the bytes of <paramref name="art"/>, read to its end.</summary>
    /// <exception cref="UnreadableArt">The file cannot be used as art.</exception>
    public Task<Artwork> DecodeAsync(Stream art, double printWidthMm, CancellationToken cancel) =>
        throw new NotSupportedException();
}
