using Microsoft.Extensions.Caching.Memory;
using NetVips;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// Smaller views of bound pictures: scaled copies for pages and tiles for the zoom. They are computed from the bound bytes
/// when asked for and kept in memory only; at the deepest level a tile is a plain cut-out of the bound picture.
/// </summary>
public sealed class DerivedPictures(IFileStore files, IMemoryCache cache) : IDisposable
{
    public const string Png = "image/png";
    public const int TileSize = 512;

    // Pages ask for dozens of views at once; two at a time keep both cores busy and decode each picture once.
    private readonly SemaphoreSlim two = new(2);

    public Task<byte[]> ScaledAsync(string sha256, int width, CancellationToken cancel) =>
        KeptAsync($"{sha256}/w{width}", sha256, levels => Scaled(levels, width), cancel);

    /// <summary>The same as WebP with a loss; colour is kept at full resolution as far as the format can.</summary>
    public Task<byte[]> SmallAsync(string sha256, int width, CancellationToken cancel) =>
        KeptAsync($"{sha256}/s{width}", sha256, levels => Small(levels, width), cancel);

    /// <summary>The same as JPEG, for documents; opaque on white.</summary>
    public Task<byte[]> JpegAsync(string sha256, int width, CancellationToken cancel) =>
        KeptAsync($"{sha256}/j{width}", sha256, levels => Jpeg(levels, width), cancel);

    /// <summary>Tile (x, y) of a level; level 0 is one pixel, each next level twice as large. Null outside the picture.</summary>
    public async Task<byte[]?> TileAsync(string sha256, int level, int x, int y, CancellationToken cancel)
    {
        var tile = await KeptAsync($"{sha256}/{level}/{x}_{y}", sha256, levels => Tile(levels, level, x, y), cancel);
        return tile.Length == 0 ? null : tile;
    }

    public void Dispose() => two.Dispose();

    private static byte[] Small(Image[] levels, int width)
    {
        var from = levels.FirstOrDefault(l => l.Width >= width) ?? levels[^1];
        if (from.Width <= width)
            return Compressed(from);
        using var small = from.ThumbnailImage(width, height: 100_000, size: Enums.Size.Down, linear: true);
        return Compressed(small);
    }

    private static byte[] Compressed(Image image) =>
        image.WebpsaveBuffer(q: 88, smartSubsample: true, effort: 3, keep: Enums.ForeignKeep.Icc);

    private static byte[] Scaled(Image[] levels, int width)
    {
        // From the smallest level that is still large enough; never enlarged.
        var from = levels.FirstOrDefault(l => l.Width >= width) ?? levels[^1];
        if (from.Width <= width)
            return Bytes(from);
        using var small = from.ThumbnailImage(width, height: 100_000, size: Enums.Size.Down, linear: true);
        return Bytes(small);
    }

    // Colour at full resolution: halved, a red line on white would fade.
    private static byte[] Jpeg(Image[] levels, int width)
    {
        using var small = Image.NewFromBuffer(Scaled(levels, width));
        using var opaque = small.HasAlpha() ? small.Flatten(background: [255]) : small.Copy();
        return opaque.JpegsaveBuffer(q: 92, subsampleMode: Enums.ForeignSubsample.Off, keep: Enums.ForeignKeep.Icc);
    }

    private static byte[] Tile(Image[] levels, int level, int x, int y)
    {
        if (level >= levels.Length)
            return [];
        var whole = levels[level];
        var (left, top) = (x * TileSize, y * TileSize);
        if (left >= whole.Width || top >= whole.Height)
            return [];
        using var cut = whole.Crop(
            left,
            top,
            Math.Min(TileSize, whole.Width - left),
            Math.Min(TileSize, whole.Height - top)
        );
        return Bytes(cut);
    }

    /// <summary>Levels of a picture by size, each half of the next, averaged in linear light; the last is the picture itself.</summary>
    private static Image[] Levels(byte[] png)
    {
        using var read = Image.NewFromBuffer(png);
        var whole = read.CopyMemory();
        var deepest = (int)Math.Ceiling(Math.Log2(Math.Max(whole.Width, whole.Height)));
        var levels = new Image[deepest + 1];
        levels[deepest] = whole;
        for (var level = deepest - 1; level >= 0; level--)
        {
            var above = levels[level + 1];
            using var half = above.ThumbnailImage(
                (above.Width + 1) / 2,
                height: (above.Height + 1) / 2,
                size: Enums.Size.Force,
                linear: true
            );
            levels[level] = half.CopyMemory();
        }
        return levels;
    }

    private static byte[] Bytes(Image image) => image.PngsaveBuffer(compression: 4, keep: Enums.ForeignKeep.Icc);

    private async Task<byte[]> KeptAsync(
        string key,
        string sha256,
        Func<Image[], byte[]> make,
        CancellationToken cancel
    )
    {
        if (cache.TryGetValue<byte[]>("view " + key, out var kept))
            return kept!;
        await two.WaitAsync(cancel);
        try
        {
            if (cache.TryGetValue("view " + key, out kept))
                return kept!;
            var made = make(await LevelsAsync(sha256, cancel));
            return Keep("view " + key, made, made.Length + 1, TimeSpan.FromMinutes(30));
        }
        finally
        {
            two.Release();
        }
    }

    private async Task<Image[]> LevelsAsync(string sha256, CancellationToken cancel)
    {
        if (cache.TryGetValue<Image[]>("levels " + sha256, out var kept))
            return kept!;
        var levels = Levels(await files.ReadCheckedAsync(sha256, cancel));
        var bytes = levels.Sum(l => (long)l.Width * l.Height * l.Bands);
        return Keep("levels " + sha256, levels, bytes, TimeSpan.FromMinutes(2));
    }

    private T Keep<T>(string key, T value, long size, TimeSpan sliding) =>
        cache.Set(key, value, new MemoryCacheEntryOptions { Size = size, SlidingExpiration = sliding });
}
