using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Work;

/// <summary>Claims one cell, keeps its lease alive, stores what comes out: pictures first, then the row that names them.</summary>
internal sealed class CellRunner(
    CellQueue queue,
    IFileStore files,
    CellHandler make,
    TimeProvider time,
    ILogger<CellRunner> log
)
{
    /// <summary>False when nothing is due.</summary>
    public async Task<bool> RunOneAsync(string owner, CancellationToken stop)
    {
        var job = await queue.ClaimAsync(owner, stop);
        if (job is null)
        {
            return false;
        }
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var beat = new LeaseBeat(time, TimeSpan.FromSeconds(1));
        var beating = beat.RunAsync(
            (newest, cancel) => queue.ReportAsync(job, newest, cancel),
            failure => log.LogError(failure, "progress of cell {Cell} could not be written; it is stopped", job.CellId),
            ended
        );
        try
        {
            switch (await make(job, beat, ended.Token))
            {
                case CellOutcome.Done done:
                    var print = await PutAsync(done.PrintPng, ended.Token);
                    var garment = await PutAsync(done.GarmentPng, ended.Token);
                    await queue.FinishAsync(job, print, garment, done.FactsJson, CancellationToken.None);
                    break;
                case CellOutcome.Cannot cannot:
                    await queue.CannotAsync(job, cannot.Why, CancellationToken.None);
                    break;
            }
        }
        catch (OperationCanceledException) when (ended.IsCancellationRequested)
        {
            // A stopping process leaves the row to its lease; the next start takes it over at once.
        }
        catch (Exception failure)
        {
            log.LogError(failure, "cell {Cell} of a compare sheet broke at try {Attempt}", job.CellId, job.Attempt);
            await queue.BrokenAsync(job, failure.Message, CancellationToken.None);
        }
        finally
        {
            await ended.CancelAsync();
            await beating;
        }
        return true;
    }

    private async Task<string> PutAsync(byte[] png, CancellationToken cancel)
    {
        using var bytes = new MemoryStream(png);
        return (await files.PutAsync(bytes, cancel)).Sha256;
    }
}
