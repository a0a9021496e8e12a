using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Mail;

/// <summary>Sends what is due, one mail at a time; rung after each commit, otherwise looks each second.</summary>
internal sealed class OutboxWorker(OutboxRunner runner, OutboxBell bell, ILogger<OutboxWorker> log) : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var owner = WorkerName.Of("outbox");
        await runner.ResumeAsync(stoppingToken);
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
                    "the outbox could not be read; it will be read again in {Seconds} s",
                    Look.TotalSeconds
                );
                await Task.Delay(Look, stoppingToken);
            }
        }
    }
}
