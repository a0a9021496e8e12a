using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Work;

/// <summary>A claimed cell of a compare sheet.</summary>
/// <param name="Run">the fence it must show when it publishes</param>
public sealed record CellJob(
    Guid CellId,
    Guid SheetId,
    string RequestJson,
    string Method,
    string GarmentId,
    string ColourId,
    int? Inks,
    long Run,
    int Attempt
);

public abstract record CellOutcome
{
    private CellOutcome() { }

    public sealed record Done(byte[] PrintPng, byte[] GarmentPng, string FactsJson) : CellOutcome;

    /// <summary>The method cannot do this; trying again would not help.</summary>
    public sealed record Cannot(string Why) : CellOutcome;
}

/// <summary>Makes one cell. Web wires the proof maker in; it must stop soon after <paramref name="cancel"/>.</summary>
public delegate Task<CellOutcome> CellHandler(
    CellJob job,
    IProgress<RenderProgress> progress,
    CancellationToken cancel
);

/// <summary>Cells of compare sheets as work, by the rules of <see cref="RenderQueue"/>: a lease, a fence, five tries.</summary>
public sealed class CellQueue(Office office, TimeProvider time)
{
    internal async Task<CellJob?> ClaimAsync(string owner, CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        await using (var peek = office.Open())
        {
            if (!await peek.SheetCells.AnyAsync(RowLocks.CellIsDue(now), cancel))
            {
                return null;
            }
        }
        return await office.WriteAsync(db => ClaimAsync(db, owner, now, cancel), cancel);
    }

    private async Task<CellJob?> ClaimAsync(OfficeDb db, string owner, DateTimeOffset now, CancellationToken cancel)
    {
        var cell = await db.LockDueCellAsync(now, cancel);
        if (cell is null)
        {
            return null;
        }
        if (cell.Attempts >= RenderQueue.MostAttempts)
        {
            End(cell, CellState.Failed, cell.Error ?? "the process ended while it was made");
            await db.SaveChangesAsync(cancel);
            return null;
        }
        cell.State = CellState.Running;
        cell.Attempts++;
        cell.Run++;
        cell.LeaseOwner = owner;
        cell.LeaseUntil = now + RenderQueue.Lease;
        (cell.Stage, cell.PercentDone) = ("starting", 0);
        var request = await db
            .CompareSheets.Where(row => row.Id == cell.SheetId)
            .Select(row => row.RequestJson)
            .SingleAsync(cancel);
        await db.SaveChangesAsync(cancel);
        return new CellJob(
            cell.Id,
            cell.SheetId,
            request,
            cell.Method,
            cell.GarmentId,
            cell.ColourId,
            cell.Inks,
            cell.Run,
            cell.Attempts
        );
    }

    /// <summary>Renews the lease. False: somebody else has the cell, stop.</summary>
    internal Task<bool> ReportAsync(CellJob job, RenderProgress? progress, CancellationToken cancel) =>
        office.WriteAsync(
            async db =>
            {
                var until = time.GetUtcNow() + RenderQueue.Lease;
                var rows = progress is null
                    ? await Mine(db, job)
                        .ExecuteUpdateAsync(set => set.SetProperty(row => row.LeaseUntil, until), cancel)
                    : await Mine(db, job)
                        .ExecuteUpdateAsync(
                            set =>
                                set.SetProperty(row => row.LeaseUntil, until)
                                    .SetProperty(row => row.Stage, progress.Stage)
                                    .SetProperty(row => row.PercentDone, progress.PercentDone),
                            cancel
                        );
                return rows == 1;
            },
            cancel
        );

    /// <summary>Publishes what was made; by the holder of the run only.</summary>
    internal Task FinishAsync(
        CellJob job,
        string printSha256,
        string garmentSha256,
        string factsJson,
        CancellationToken cancel
    ) =>
        ChangeAsync(
            job,
            cell =>
            {
                End(cell, CellState.Done, null);
                (cell.PrintSha256, cell.GarmentSha256, cell.FactsJson) = (printSha256, garmentSha256, factsJson);
            },
            cancel
        );

    internal Task CannotAsync(CellJob job, string why, CancellationToken cancel) =>
        ChangeAsync(job, cell => End(cell, CellState.Cannot, why), cancel);

    /// <summary>Puts the cell back for later after a broken try, or ends it after too many.</summary>
    internal Task BrokenAsync(CellJob job, string error, CancellationToken cancel) =>
        ChangeAsync(
            job,
            cell =>
            {
                if (cell.Attempts >= RenderQueue.MostAttempts)
                {
                    End(cell, CellState.Failed, error);
                    return;
                }
                cell.Error = error;
                cell.State = CellState.Ready;
                cell.LeaseUntil = null;
                cell.NotBefore = time.GetUtcNow() + TimeSpan.FromSeconds(5 * cell.Attempts);
            },
            cancel
        );

    private Task ChangeAsync(CellJob job, Action<SheetCell> change, CancellationToken cancel) =>
        office.WriteAsync(
            async db =>
            {
                if (await Mine(db, job).SingleOrDefaultAsync(cancel) is not { } cell)
                {
                    return;
                }
                change(cell);
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    private void End(SheetCell cell, CellState state, string? why)
    {
        (cell.State, cell.Error, cell.LeaseUntil, cell.FinishedAt) = (state, why, null, time.GetUtcNow());
        cell.PercentDone = state == CellState.Done ? 100 : cell.PercentDone;
    }

    private static IQueryable<SheetCell> Mine(OfficeDb db, CellJob job) =>
        db.SheetCells.Where(row => row.Id == job.CellId && row.Run == job.Run && row.State == CellState.Running);
}
