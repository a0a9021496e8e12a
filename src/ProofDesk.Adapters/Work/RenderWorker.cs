using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace ProofDesk.Adapters.Work;

/// <summary>
/// One render at a time: it keeps every core busy by itself. Cells of compare sheets are made when no order waits, one between
/// two looks at the orders.
/// </summary>
internal sealed class RenderWorker(
    RenderRunner runner,
    IEnumerable<CellRunner> cells,
    RenderBell bell,
    ILogger<RenderWorker> log
) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var owner = WorkerName.Of("render");
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                while (await RunOneAsync(owner, stoppingToken)) { }
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

    private async Task<bool> RunOneAsync(string owner, CancellationToken stop)
    {
        if (await runner.RunOneAsync(owner, stop))
        {
            return true;
        }
        foreach (var cell in cells)
        {
            if (await cell.RunOneAsync(owner, stop))
            {
                return true;
            }
        }
        return false;
    }
}
