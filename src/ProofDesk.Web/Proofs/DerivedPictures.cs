using Microsoft.Extensions.Caching.Memory;
using NetVips;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// Smaller views of bound pictures: scaled copies for pages and tiles for the zoom. They are computed from the bound bytes
/// when asked for and kept in memory only; at the deepest level a tile is a plain cut-out of the bound picture.
/// </summary>
public sealed class DerivedPictures(IFileStore files, IMemoryCache cache)
{
    public const int TileSize = 512;

    public static bool Takes(string mediaType) => mediaType is "image/png" or "image/tiff";

    public Task<byte[]> ScaledAsync(string sha256, int width, CancellationToken cancel) =>
        KeptAsync(
            $"{sha256}/w{width}",
            async () =>
            {
                // Never enlarged; averaged in linear light so that fine lines keep their weight.
                var bytes = await files.ReadCheckedAsync(sha256, cancel);
                using var small = Image.ThumbnailBuffer(
                    bytes,
                    width,
                    height: 100_000,
                    size: Enums.Size.Down,
                    linear: true
                );
                return Png(small);
            }
        );

    /// <summary>Tile (x, y) of a level; level 0 is one pixel, each next level twice as large. Null outside the picture.</summary>
    public async Task<byte[]?> TileAsync(string sha256, int level, int x, int y, CancellationToken cancel)
    {
        var tile = await KeptAsync(
            $"{sha256}/{level}/{x}_{y}",
            async () => Tile(await files.ReadCheckedAsync(sha256, cancel), level, x, y)
        );
        return tile.Length == 0 ? null : tile;
    }

    private static byte[] Tile(byte[] bytes, int level, int x, int y)
    {
        using var whole = Image.NewFromBuffer(bytes);
        var deepest = (int)Math.Ceiling(Math.Log2(Math.Max(whole.Width, whole.Height)));
        if (level > deepest)
            return [];
        var shrink = 1 << (deepest - level);
        var (width, height) = ((whole.Width + shrink - 1) / shrink, (whole.Height + shrink - 1) / shrink);
        if (x * TileSize >= width || y * TileSize >= height)
            return [];
        using var scaled =
            shrink == 1
                ? whole.Copy()
                : Image.ThumbnailBuffer(bytes, width, height: height, size: Enums.Size.Force, linear: true);
        using var cut = scaled.Crop(
            x * TileSize,
            y * TileSize,
            Math.Min(TileSize, width - x * TileSize),
            Math.Min(TileSize, height - y * TileSize)
        );
        return Png(cut);
    }

    private static byte[] Png(Image image)
    {
        using var eight = image.Format == Enums.BandFormat.Uchar ? image.Copy() : image.Cast(Enums.BandFormat.Uchar);
        return eight.PngsaveBuffer(compression: 4, keep: Enums.ForeignKeep.Icc);
    }

    private async Task<byte[]> KeptAsync(string key, Func<Task<byte[]>> make) =>
        (
            await cache.GetOrCreateAsync(
                "picture " + key,
                async entry =>
                {
                    var bytes = await make();
                    entry.Size = bytes.Length + 1;
                    entry.SlidingExpiration = TimeSpan.FromMinutes(20);
                    return bytes;
                }
            )
        )!;
}
