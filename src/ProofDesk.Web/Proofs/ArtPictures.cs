using Microsoft.Extensions.Caching.Memory;
using NetVips;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// The art of a version's print as it was sent, lying on the colour of a cloth, whole or around a place. Decoded again when asked for
/// and kept in memory only.
/// </summary>
public sealed class ArtPictures(Artworks artworks, IMemoryCache cache) : IDisposable
{
    private const int MostSide = 2000;
    private const int CutWidth = 560;
    private readonly SemaphoreSlim one = new(1);

    /// <param name="view">What is seen of it; null = the whole art.</param>
    /// <returns>Null where the stored art cannot be read any more.</returns>
    public async Task<byte[]?> PngAsync(
        ReadVersion read,
        ProofOrderPrint print,
        Printing.Garments.Ground ground,
        SpotView? view,
        CancellationToken cancel
    )
    {
        var key = $"art {read.Version.Id} {print.Key} {ground.Id}";
        await one.WaitAsync(cancel);
        try
        {
            if (!cache.TryGetValue<byte[]>(key, out var whole))
            {
                var art = await artworks.ReadAsync(print.ArtSha256, print.WidthMm, print.Options?.PdfPage, cancel);
                var sized = ArtSizing.Size(art, print.WidthMm, Choice(print.Background));
                whole = cache.Set(
                    key,
                    Artworks.OnCloth(sized, ground.Colour, MostSide, margin: 0),
                    new MemoryCacheEntryOptions { Size = 4_000_000, SlidingExpiration = TimeSpan.FromMinutes(10) }
                );
            }
            return view is null ? whole : Cut(whole!, view, print.WidthMm);
        }
        catch (UnreadableArt)
        {
            return null;
        }
        finally
        {
            one.Release();
        }
    }

    public void Dispose() => one.Dispose();

    private static BackgroundChoice Choice(string background) =>
        background switch
        {
            "drop" => BackgroundChoice.Drop,
            "print" => BackgroundChoice.Print,
            _ => BackgroundChoice.AsGiven,
        };

    /// <summary>Art pixels stay squares where there are fewer of them than the picture has.</summary>
    private static byte[] Cut(byte[] png, SpotView view, double widthMm)
    {
        using var whole = Image.NewFromBuffer(png);
        var perMm = whole.Width / widthMm;
        var left = Math.Clamp((int)Math.Round(view.X * perMm), 0, whole.Width - 1);
        var top = Math.Clamp((int)Math.Round(view.Y * perMm), 0, whole.Height - 1);
        using var cut = whole.Crop(
            left,
            top,
            Math.Clamp((int)Math.Round(view.Width * perMm), 1, whole.Width - left),
            Math.Clamp((int)Math.Round(view.Height * perMm), 1, whole.Height - top)
        );
        var scale = (double)CutWidth / cut.Width;
        using var seen = cut.Resize(scale, kernel: scale > 1 ? Enums.Kernel.Nearest : Enums.Kernel.Lanczos3);
        return seen.PngsaveBuffer(compression: 4);
    }
}
