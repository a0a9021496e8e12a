using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Work;

/// <summary>Writes behind the requests when sessions and keys were last used: no page waits for it.</summary>
internal sealed class SessionsWorker(
    Sessions sessions,
    ApiKeys keys,
    TryCounts tries,
    TimeProvider time,
    ILogger<SessionsWorker> log
) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(TimeSpan.FromSeconds(30), time);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                await WriteAsync(stoppingToken);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested) { }
        await WriteAsync(CancellationToken.None);
    }

    private async Task WriteAsync(CancellationToken cancel)
    {
        try
        {
            await sessions.WriteSeenAsync(cancel);
            await keys.WriteSeenAsync(cancel);
            await tries.ForgetAsync(cancel);
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            log.LogWarning(failure, "when sessions were last used was not written; tried again in 30 s");
        }
    }
}
