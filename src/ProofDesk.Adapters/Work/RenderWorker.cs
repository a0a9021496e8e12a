using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace ProofDesk.Adapters.Work;

/// <summary>One render at a time: it keeps every core busy by itself.</summary>
internal sealed class RenderWorker(RenderRunner runner, RenderBell bell, ILogger<RenderWorker> log) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var owner = WorkerName.Of("render");
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                while (await runner.RunOneAsync(owner, stoppingToken)) { }
                await bell.WaitAsync(Look, stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception failure)
            {
                log.LogError(
                    failure,
                    "the render queue could not be read; it will be read again in {Seconds} s",
                    Look.TotalSeconds
                );
                await Task.Delay(Look, stoppingToken);
            }
        }
    }
}
