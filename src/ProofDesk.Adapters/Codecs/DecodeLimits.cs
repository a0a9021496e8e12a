namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// How much a stranger's picture may ask for. Checked on the file and its header before any pixel is unpacked; the
/// worker's own memory and time caps are the second wall.
/// </summary>
public sealed record DecodeLimits
{
    public static DecodeLimits Default { get; } = new();

    public long MaxFileBytes { get; init; } = 200L << 20;

    /// <summary>Longest side of the canvas, px.</summary>
    public int MaxSide { get; init; } = 30_000;
    public long MaxPixels { get; init; } = 100_000_000;
    public int MaxBands { get; init; } = 8;

    /// <summary>Width x height x bands x bytes per value.</summary>
    public long MaxUnpackedBytes { get; init; } = 1L << 30;

    /// <summary>Unpacked bytes per byte of file: a flat PNG packs about 1,000 to 1; only large canvases are held against it.</summary>
    public int MaxRatio { get; init; } = 4_000;
    public int MaxProfileBytes { get; init; } = 4 << 20;

    /// <summary>Pages or frames the file may declare; the first is used.</summary>
    public int MaxPages { get; init; } = 1_000;

    /// <summary>Pixels an SVG is drawn with at most: edges stay smooth on film from about 400 dpi on.</summary>
    public long MaxVectorPixels { get; init; } = 24_000_000;

    /// <summary>Drawings kept apart in one file: more than the largest press has heads.</summary>
    public int MaxLayers { get; init; } = 16;

    /// <summary>Pixels of all layers together, a byte each.</summary>
    public long MaxLayerPixels { get; init; } = 400_000_000;

    /// <summary>Lines of text a file may tell of; more are not listed.</summary>
    public int MaxWords { get; init; } = 500;

    /// <summary>Bytes the worker and a program it calls may leave in their private folder; it lives in memory.</summary>
    public long MaxScratchBytes { get; init; } = 1L << 30;

    /// <summary>Bytes of one such file: a plane or picture of the largest drawing, packed.</summary>
    public long MaxScratchFileBytes { get; init; } = 256L << 20;

    public TimeSpan WallClock { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>Address space of the worker beyond what the runtime itself reserves.</summary>
    public long MaxWorkerBytes { get; init; } = 4L << 30;
}
