using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>The films of one print of a version, and the request they were made from.</summary>
public sealed record ShelvedFilms(ProofRequest Request, Films Films);

/// <summary>
/// Films of a version made again from the version's own request, which gives the same bits, and kept for the next look. A
/// page asks for many spots at once: they are made once, the others wait.
/// </summary>
public sealed class FilmShelf(ProofRequests requests, IMemoryCache cache) : IDisposable
{
    private const long RoughBytes = 64_000_000;
    private readonly SemaphoreSlim one = new(1);

    public async Task<ShelvedFilms> TakeAsync(ReadVersion read, ProofOrderPrint print, CancellationToken cancel)
    {
        var key = $"films {read.Version.Id} {print.Key}";
        if (cache.TryGetValue<ShelvedFilms>(key, out var kept))
            return kept!;
        await one.WaitAsync(cancel);
        try
        {
            if (cache.TryGetValue(key, out kept))
                return kept!;
            var request = await requests.OfAsync(read.Order, print, cancel);
            var made = new ShelvedFilms(request, await Task.Run(() => ProofMaker.MakeFilms(request), cancel));
            return cache.Set(
                key,
                made,
                new MemoryCacheEntryOptions { Size = RoughBytes, SlidingExpiration = TimeSpan.FromMinutes(10) }
            );
        }
        finally
        {
            one.Release();
        }
    }

    public void Dispose() => one.Dispose();
}
