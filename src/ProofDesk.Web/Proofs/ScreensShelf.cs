using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Printing.Costs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>Counts what one more screen buys. Versions that were made with their table have it at once.</summary>
public sealed class ScreensShelf(ProofRequests requests, IMemoryCache cache) : IDisposable
{
    private const long RoughBytes = 50_000;
    private readonly CountedOnce<ScreensSummary> once = new(cache, RoughBytes);

    /// <summary>The table; null when <paramref name="patience"/> was not enough for it and it is still being counted.</summary>
    public async Task<ScreensSummary?> ReadAsync(
        ReadVersion read,
        ProofOrderPrint print,
        RateCard card,
        TimeSpan patience,
        CancellationToken cancel
    )
    {
        if (read.Summary.Prints.FirstOrDefault(p => p.Key == print.Key)?.Screens is { } brought)
            return brought;
        // By what the card says: two readings of one card are not equal.
        var key = $"screens {read.Version.Id} {print.Key} {RateCardJson.Write(card)}";
        var (table, _) = await once.ReadAsync(
            key,
            async (_, stop) =>
            {
                var request = await requests.OfAsync(read.Order, print, stop);
                return await Task.Run(() => ScreensSummary.Of(request, card), stop);
            },
            patience,
            cancel
        );
        return table;
    }

    public void Dispose() => once.Dispose();
}
