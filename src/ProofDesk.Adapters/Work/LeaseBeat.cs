using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Work;

/// <summary>Keeps the lease of claimed work alive while it is made, and writes down how far it is.</summary>
/// <param name="every">at most so often the newest step is written; at each heartbeat at least, so that the lease lives</param>
internal sealed class LeaseBeat(TimeProvider time, TimeSpan every) : IProgress<RenderProgress>
{
    private RenderProgress? _newest;

    public void Report(RenderProgress value) => Volatile.Write(ref _newest, value);

    /// <summary>Beats until <paramref name="ended"/>, and ends it when the work is somebody else's or cannot be written down.</summary>
    /// <param name="renew">renews the lease, with the newest step where it is another; false: stop</param>
    public async Task RunAsync(
        Func<RenderProgress?, CancellationToken, Task<bool>> renew,
        Action<Exception> broken,
        CancellationTokenSource ended
    )
    {
        var written = time.GetTimestamp();
        RenderProgress? last = null;
        try
        {
            while (!ended.IsCancellationRequested)
            {
                await Task.Delay(every, time, ended.Token);
                var now = Volatile.Read(ref _newest);
                if (now == last && time.GetElapsedTime(written) < RenderQueue.Heartbeat)
                {
                    continue;
                }
                if (!await renew(now == last ? null : now, ended.Token))
                {
                    await ended.CancelAsync();
                }
                (last, written) = (now, time.GetTimestamp());
            }
        }
        catch (OperationCanceledException) { }
        catch (Exception failure)
        {
            broken(failure);
            await ended.CancelAsync();
        }
    }
}
