using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// Looks at a spot of a version's print through the press simulation at film resolution. Plates are made again from the
/// version's own request, which gives the same bits, and are kept for the next look.
/// </summary>
public sealed class LoupeDesk(ProofRequests requests, IMemoryCache cache)
{
    public async Task<byte[]?> LookAsync(
        ReadVersion read,
        string print,
        string ground,
        double xMm,
        double yMm,
        CancellationToken cancel
    )
    {
        var chosen = read.Order.Prints.FirstOrDefault(p => p.Key == print);
        if (chosen is null || !double.IsFinite(xMm) || !double.IsFinite(yMm))
            return null;
        var (request, films) = await FilmsAsync(read, chosen, cancel);
        var plan = films.Separation.Grounds.FirstOrDefault(g => g.Ground.Id == ground);
        if (plan is null)
            return null;
        var (width, height) = (films.Separation.WidthMm, films.Separation.HeightMm);
        var (seenWidth, seenHeight) = (Math.Min(ProofPage.LoupeMm, width), Math.Min(ProofPage.LoupeMm, height));
        var seen = Loupe.Look(
            films,
            plan,
            request.Press,
            Deposit.Expected,
            request.Light,
            request.Seed,
            Math.Clamp(xMm - seenWidth / 2, 0, width - seenWidth),
            Math.Clamp(yMm - seenHeight / 2, 0, height - seenHeight),
            seenWidth,
            seenHeight
        );
        return PictureWriter.Png(seen);
    }

    private async Task<(ProofRequest Request, Films Films)> FilmsAsync(
        ReadVersion read,
        ProofOrderPrint print,
        CancellationToken cancel
    )
    {
        var kept = await cache.GetOrCreateAsync(
            $"films {read.Version.Id} {print.Key}",
            async entry =>
            {
                entry.Size = 64_000_000;
                entry.SlidingExpiration = TimeSpan.FromMinutes(10);
                var request = await requests.OfAsync(read.Order, print, cancel);
                return Tuple.Create(request, ProofMaker.MakeFilms(request));
            }
        );
        return (kept!.Item1, kept.Item2);
    }
}
