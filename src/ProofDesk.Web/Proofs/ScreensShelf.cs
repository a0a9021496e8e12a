using System.Collections.Concurrent;
using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Printing.Costs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// Counts what one more screen buys, one print at a time, and keeps the table for the next look. Versions that were made with
/// their table have it at once.
/// </summary>
public sealed class ScreensShelf(ProofRequests requests, IMemoryCache cache) : IDisposable
{
    private const long RoughBytes = 50_000;
    private readonly SemaphoreSlim one = new(1);
    private readonly CancellationTokenSource ending = new();
    private readonly ConcurrentDictionary<string, Lazy<Task<ScreensSummary>>> counting = [];

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
        var key = $"screens {read.Version.Id} {print.Key} {card.GetHashCode()}";
        if (cache.TryGetValue<ScreensSummary>(key, out var kept))
            return kept;
        var work = counting.GetOrAdd(key, _ => new(() => CountAsync(key, read.Order, print, card))).Value;
        await Task.WhenAny(work, Task.Delay(patience, cancel));
        cancel.ThrowIfCancellationRequested();
        return work.IsCompleted ? await work : null;
    }

    public void Dispose()
    {
        ending.Cancel();
        ending.Dispose();
        one.Dispose();
    }

    private async Task<ScreensSummary> CountAsync(string key, ProofOrder order, ProofOrderPrint print, RateCard card)
    {
        await Task.Yield();
        var stop = ending.Token;
        try
        {
            await one.WaitAsync(stop);
            try
            {
                var request = await requests.OfAsync(order, print, stop);
                var table = await Task.Run(() => ScreensSummary.Of(request, card), stop);
                return cache.Set(
                    key,
                    table,
                    new MemoryCacheEntryOptions { Size = RoughBytes, SlidingExpiration = TimeSpan.FromHours(2) }
                );
            }
            finally
            {
                one.Release();
            }
        }
        finally
        {
            counting.TryRemove(key, out _);
        }
    }
}
