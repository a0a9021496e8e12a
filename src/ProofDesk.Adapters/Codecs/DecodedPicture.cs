using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>What a reader made of a file, before the parent adds the digest.</summary>
internal sealed record DecodedPicture(RgbaRaster Pixels, ArtSource Source, IReadOnlyList<Finding> Findings)
{
    /// <summary>The first printed first, each the size of the canvas.</summary>
    public ImmutableArray<ArtLayer> Layers { get; init; } = [];

    public ImmutableArray<string> Words { get; init; } = [];
}
