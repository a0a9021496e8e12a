using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Operations;

namespace ProofDesk.Adapters.Work;

/// <summary>Claims one render, keeps its lease alive, freezes what comes out.</summary>
internal sealed class RenderRunner(
    RenderQueue queue,
    Freezing freezing,
    RenderHandler render,
    TimeProvider time,
    ILogger<RenderRunner> log
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
        var begun = time.GetTimestamp();
        var how = "broken";
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var beat = new LeaseBeat(time, TimeSpan.FromMilliseconds(500));
        var beating = beat.RunAsync(
            (newest, cancel) => queue.ReportAsync(job, newest, cancel),
            failure =>
                log.LogError(
                    failure,
                    "progress of version {Version} could not be written; the render is stopped",
                    job.VersionId
                ),
            ended
        );
        try
        {
            var outcome = await render(job, beat, ended.Token);
            await EndAsync(job, outcome, ended.Token);
            how = outcome is RenderOutcome.Done ? "done" : "refused";
        }
        catch (OperationCanceledException) when (ended.IsCancellationRequested)
        {
            how = "cancelled";
            if (!stop.IsCancellationRequested)
            {
                await queue.GiveUpAsync(job, RenderState.Cancelled, "cancelled", "[]", CancellationToken.None);
            }
            // A stopping process leaves the row to its lease; the next start takes it over at once.
        }
        catch (Exception failure)
        {
            log.LogError(failure, "render of version {Version} broke at try {Attempt}", job.VersionId, job.Attempt);
            await queue.BrokenAsync(job, failure.Message, CancellationToken.None);
        }
        finally
        {
            await ended.CancelAsync();
            await beating;
            Measures.Render.Record(
                time.GetElapsedTime(begun).TotalSeconds,
                new KeyValuePair<string, object?>("outcome", how)
            );
        }
        return true;
    }

    private async Task EndAsync(RenderJob job, RenderOutcome outcome, CancellationToken cancel)
    {
        switch (outcome)
        {
            case RenderOutcome.Done done:
                await queue.ReportAsync(job, new RenderProgress("storing", 99), cancel);
                if (!await freezing.FreezeAsync(job, done, cancel))
                {
                    await queue.GiveUpAsync(job, RenderState.Cancelled, "cancelled", "[]", CancellationToken.None);
                }
                break;
            case RenderOutcome.Refused refused:
                await queue.GiveUpAsync(
                    job,
                    RenderState.Failed,
                    refused.Reason,
                    refused.FindingsJson,
                    CancellationToken.None
                );
                break;
        }
    }
}
