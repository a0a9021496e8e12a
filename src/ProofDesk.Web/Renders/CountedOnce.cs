using System.Collections.Concurrent;
using Microsoft.Extensions.Caching.Memory;

namespace ProofDesk.Web.Renders;

/// <summary>
/// Answers that take seconds of all cores: counted one at a time and once each, kept for two hours, and waited for as long as
/// whoever asks has patience. The count goes on when they have left.
/// </summary>
/// <param name="roughBytes">what one answer takes of the cache</param>
public sealed class CountedOnce<T>(IMemoryCache cache, long roughBytes) : IDisposable
    where T : class
{
    private static readonly TimeSpan Kept = TimeSpan.FromHours(2);

    private readonly SemaphoreSlim one = new(1);
    private readonly CancellationTokenSource ending = new();
    private readonly ConcurrentDictionary<string, Lazy<Running>> running = [];

    /// <param name="key">all that the answer depends on</param>
    /// <param name="count">counts it; may report how far it is</param>
    /// <returns>the answer; null and how far it is when the patience was not enough</returns>
    public async Task<(T? Answer, int Done)> ReadAsync(
        string key,
        Func<IProgress<int>, CancellationToken, Task<T>> count,
        TimeSpan patience,
        CancellationToken cancel
    )
    {
        if (cache.TryGetValue<T>(key, out var kept))
            return (kept, 0);
        var work = running.GetOrAdd(key, _ => new(() => new Running(done => CountAsync(key, count, done)))).Value;
        await Task.WhenAny(work.Answer, Task.Delay(patience, cancel));
        cancel.ThrowIfCancellationRequested();
        return (work.Answer.IsCompleted ? await work.Answer : null, work.Done);
    }

    public void Dispose()
    {
        ending.Cancel();
        ending.Dispose();
        one.Dispose();
    }

    private async Task<T> CountAsync(
        string key,
        Func<IProgress<int>, CancellationToken, Task<T>> count,
        IProgress<int> done
    )
    {
        await Task.Yield();
        var stop = ending.Token;
        try
        {
            await one.WaitAsync(stop);
            try
            {
                return cache.Set(
                    key,
                    await count(done, stop),
                    new MemoryCacheEntryOptions { Size = roughBytes, SlidingExpiration = Kept }
                );
            }
            finally
            {
                one.Release();
            }
        }
        finally
        {
            running.TryRemove(key, out _);
        }
    }

    private sealed class Running : IProgress<int>
    {
        public Running(Func<IProgress<int>, Task<T>> count) => Answer = count(this);

        public Task<T> Answer { get; }
        public int Done { get; private set; }

        public void Report(int value) => Done = value;
    }
}
