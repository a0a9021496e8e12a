using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Work;

/// <summary>A claimed render.</summary>
/// <param name="ShopLines">what the shop adds to the sentences the client signs</param>
/// <param name="Run">the fence it must show when it publishes</param>
public sealed record RenderJob(
    Guid WorkId,
    Guid VersionId,
    Guid OrderId,
    int VersionNumber,
    string RequestJson,
    string Shop,
    int OrderNumber,
    IReadOnlyList<string> ShopLines,
    long Run,
    int Attempt
);

public sealed record RenderProgress(string Stage, int PercentDone);

/// <summary>A file the render made, on disk or in memory; opened once when it is stored.</summary>
public sealed record RenderedFile(string Path, FileRole Role, string MediaType, Func<Stream> Open);

/// <summary>A rendered file after it was stored.</summary>
public sealed record StoredFile(string Path, FileRole Role, string MediaType, long Bytes, string Sha256, string Sha512);

public abstract record RenderOutcome
{
    private RenderOutcome() { }

    /// <param name="ManifestOf">canonical manifest bytes of the stored files (ManifestJson.Write)</param>
    /// <param name="StatementTexts">the sentences the client will sign, one a locale; the manifest binds their digests</param>
    public sealed record Done(
        IReadOnlyList<RenderedFile> Files,
        Func<IReadOnlyList<StoredFile>, byte[]> ManifestOf,
        IReadOnlyDictionary<string, string> StatementTexts,
        string FindingsJson
    ) : RenderOutcome;

    /// <summary>The art or the settings cannot do this; trying again would not help.</summary>
    public sealed record Refused(string Reason, string FindingsJson) : RenderOutcome;
}

/// <summary>The render itself. Web wires the proof maker in; it must stop soon after <paramref name="cancel"/>.</summary>
public delegate Task<RenderOutcome> RenderHandler(
    RenderJob job,
    IProgress<RenderProgress> progress,
    CancellationToken cancel
);

/// <summary>What a page shows while a version is being made.</summary>
public sealed record RenderView(
    Guid WorkId,
    RenderState State,
    string Stage,
    int PercentDone,
    long ProgressNumber,
    int Attempts,
    string? Error,
    bool CancelRequested
);

/// <summary>
/// Renders as rows. A claim is a lease with a fence: whoever claims counts <c>Run</c> up, and only the run that still holds the row
/// may report or publish, so a worker that slept through its lease changes nothing.
/// </summary>
public sealed class RenderQueue(Office office, TimeProvider time, RenderBell bell)
{
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(60);
    public static readonly TimeSpan Heartbeat = TimeSpan.FromSeconds(15);

    /// <summary>After so many broken tries the art is taken to be the cause.</summary>
    public const int MostAttempts = 5;

    /// <summary>Makes the next version of the order and the work to render it, in one transaction.</summary>
    public async Task<Guid> AskAsync(Guid orderId, string requestJson, string actor, CancellationToken cancel = default)
    {
        var versionId = await office.WriteAsync(
            async db =>
            {
                await db.LockLogHeadAsync(cancel);
                var now = time.GetUtcNow();
                var newest =
                    await db
                        .ProofVersions.Where(row => row.OrderId == orderId)
                        .MaxAsync(row => (int?)row.Number, cancel)
                    ?? 0;
                var version = new ProofVersion
                {
                    OrderId = orderId,
                    Number = newest + 1,
                    State = VersionState.Rendering,
                    RequestJson = requestJson,
                    CreatedBy = actor,
                    CreatedAt = now,
                };
                db.ProofVersions.Add(version);
                db.RenderWork.Add(
                    new RenderWork
                    {
                        VersionId = version.Id,
                        NotBefore = now,
                        CreatedAt = now,
                    }
                );
                db.Note(time, actor, "render asked", orderId, $"version {version.Number}");
                await db.SaveChangesAsync(cancel);
                return version.Id;
            },
            cancel
        );
        bell.Ring();
        return versionId;
    }

    /// <summary>A renderer notices within one report; work nobody has claimed ends at once.</summary>
    public Task CancelAsync(Guid versionId, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var work = await db.RenderWork.Where(row => row.VersionId == versionId).ToListAsync(cancel);
                foreach (var row in work.Where(row => row.State is RenderState.Ready or RenderState.Running))
                {
                    row.CancelRequested = true;
                    if (row.State == RenderState.Ready)
                    {
                        await EndAsync(db, row, RenderState.Cancelled, "cancelled before it began", "[]", cancel);
                    }
                }
                var version = await db.ProofVersions.SingleAsync(row => row.Id == versionId, cancel);
                db.Note(time, actor, "render cancelled", version.OrderId, $"version {version.Number}");
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    public async Task<RenderView?> ViewAsync(Guid versionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .RenderWork.AsNoTracking()
            .Where(row => row.VersionId == versionId)
            .OrderByDescending(row => row.Id)
            .Select(row => new RenderView(
                row.Id,
                row.State,
                row.Stage,
                row.PercentDone,
                row.ProgressNumber,
                row.Attempts,
                row.Error,
                row.CancelRequested
            ))
            .FirstOrDefaultAsync(cancel);
    }

    internal async Task<RenderJob?> ClaimAsync(string owner, CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        await using (var peek = office.Open())
        {
            if (!await peek.RenderWork.AnyAsync(RowLocks.IsDue(now), cancel))
            {
                return null;
            }
        }
        return await office.WriteAsync(db => ClaimAsync(db, owner, now, cancel), cancel);
    }

    /// <summary>Renews the lease and writes the stage. False: stop, the work is cancelled or somebody else has it.</summary>
    internal Task<bool> ReportAsync(RenderJob job, RenderProgress? progress, CancellationToken cancel) =>
        office.WriteAsync(
            async db =>
            {
                var until = time.GetUtcNow() + Lease;
                var mine = Mine(db, job).Where(row => !row.CancelRequested);
                var rows = progress is null
                    ? await mine.ExecuteUpdateAsync(set => set.SetProperty(row => row.LeaseUntil, until), cancel)
                    : await mine.ExecuteUpdateAsync(
                        set =>
                            set.SetProperty(row => row.LeaseUntil, until)
                                .SetProperty(row => row.Stage, progress.Stage)
                                .SetProperty(row => row.PercentDone, progress.PercentDone)
                                .SetProperty(row => row.ProgressNumber, row => row.ProgressNumber + 1),
                        cancel
                    );
                return rows == 1;
            },
            cancel
        );

    /// <summary>Ends the work without a proof; the version shows the reason.</summary>
    internal Task<bool> GiveUpAsync(
        RenderJob job,
        RenderState state,
        string reason,
        string findings,
        CancellationToken cancel
    ) =>
        office.WriteAsync(
            async db =>
            {
                var work = await Mine(db, job).SingleOrDefaultAsync(cancel);
                if (work is null)
                {
                    return false;
                }
                await EndAsync(db, work, state, reason, findings, cancel);
                await db.SaveChangesAsync(cancel);
                return true;
            },
            cancel
        );

    /// <summary>Puts the work back for later after a broken try, or ends it after too many.</summary>
    internal Task<bool> BrokenAsync(RenderJob job, string error, CancellationToken cancel) =>
        office.WriteAsync(
            async db =>
            {
                var work = await Mine(db, job).SingleOrDefaultAsync(cancel);
                if (work is null)
                {
                    return false;
                }
                work.Error = error;
                if (work.Attempts >= MostAttempts)
                {
                    await EndAsync(db, work, RenderState.Failed, TooOften(error), "[]", cancel);
                }
                else
                {
                    work.State = RenderState.Ready;
                    work.LeaseUntil = null;
                    work.NotBefore = time.GetUtcNow() + TimeSpan.FromSeconds(5 * work.Attempts);
                }
                await db.SaveChangesAsync(cancel);
                return true;
            },
            cancel
        );

    /// <summary>The fence of publishing, inside the transaction that stores the result. False: throw the result away.</summary>
    internal async Task<bool> CloseAsync(OfficeDb db, RenderJob job, CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        return await Mine(db, job)
                .Where(row => !row.CancelRequested)
                .ExecuteUpdateAsync(
                    set =>
                        set.SetProperty(row => row.State, RenderState.Done)
                            .SetProperty(row => row.PercentDone, 100)
                            .SetProperty(row => row.ProgressNumber, row => row.ProgressNumber + 1)
                            .SetProperty(row => row.LeaseUntil, (DateTimeOffset?)null)
                            .SetProperty(row => row.FinishedAt, now),
                    cancel
                ) == 1;
    }

    private async Task<RenderJob?> ClaimAsync(OfficeDb db, string owner, DateTimeOffset now, CancellationToken cancel)
    {
        var work = await db.LockDueRenderAsync(now, cancel);
        if (work is null)
        {
            return null;
        }
        if (work.CancelRequested || work.Attempts >= MostAttempts)
        {
            var reason = work.CancelRequested
                ? "cancelled"
                : TooOften(work.Error ?? "the process ended while rendering");
            await EndAsync(
                db,
                work,
                work.CancelRequested ? RenderState.Cancelled : RenderState.Failed,
                reason,
                "[]",
                cancel
            );
            await db.SaveChangesAsync(cancel);
            return null;
        }
        work.State = RenderState.Running;
        work.Attempts++;
        work.Run++;
        work.LeaseOwner = owner;
        work.LeaseUntil = now + Lease;
        work.Stage = "starting";
        work.PercentDone = 0;
        work.ProgressNumber++;
        var version = await db.ProofVersions.AsNoTracking().SingleAsync(row => row.Id == work.VersionId, cancel);
        var number = await db
            .Orders.Where(row => row.Id == version.OrderId)
            .Select(row => row.Number)
            .SingleAsync(cancel);
        var shop = await db.ShopAsync(cancel);
        await db.SaveChangesAsync(cancel);
        return new RenderJob(
            work.Id,
            version.Id,
            version.OrderId,
            version.Number,
            version.RequestJson,
            shop.Name,
            number,
            shop.StatementText.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries),
            work.Run,
            work.Attempts
        );
    }

    private async Task EndAsync(
        OfficeDb db,
        RenderWork work,
        RenderState state,
        string reason,
        string findings,
        CancellationToken cancel
    )
    {
        work.State = state;
        work.Error = reason;
        work.LeaseUntil = null;
        work.FinishedAt = time.GetUtcNow();
        work.ProgressNumber++;
        var version = await db.ProofVersions.SingleAsync(row => row.Id == work.VersionId, cancel);
        version.State = VersionState.Failed;
        version.Error = reason;
        version.FindingsJson = findings;
    }

    private static string TooOften(string error) => $"gave up after {MostAttempts} tries; the last one said: {error}";

    private static IQueryable<RenderWork> Mine(OfficeDb db, RenderJob job) =>
        db.RenderWork.Where(row => row.Id == job.WorkId && row.Run == job.Run && row.State == RenderState.Running);
}
