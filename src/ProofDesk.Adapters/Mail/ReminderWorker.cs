using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Mail;

/// <summary>Looks once an hour whether a reminder is due.</summary>
internal sealed class ReminderWorker(Reminding reminding, TimeProvider time, ILogger<ReminderWorker> log)
    : BackgroundService
{
    private static readonly TimeSpan Look = TimeSpan.FromHours(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Look, time);
        do
        {
            try
            {
                await reminding.RunAsync(stoppingToken);
            }
            catch (Exception failure) when (failure is not OperationCanceledException)
            {
                log.LogError(failure, "reminders could not be looked at; they will be in an hour");
            }
        } while (await NextAsync(timer, stoppingToken));
    }

    private static async Task<bool> NextAsync(PeriodicTimer timer, CancellationToken stop)
    {
        try
        {
            return await timer.WaitForNextTickAsync(stop);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}
