using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// What happens to the database before the first request: one process only on a SQLite file, an engine we trust, a migration lock
/// that a killed start left behind is broken, the schema is brought up to date. Held until the process ends.
/// </summary>
public sealed class OfficeOpening(Office office, DataFolder folder) : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private FileStream? _lock;

    public async Task OpenAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        if (office.IsSqlite)
        {
            RefuseNetworkDisk(folder.Root, new DriveInfo(folder.Root).DriveType);
            _lock ??= OnlyProcess();
            await db.Database.OpenConnectionAsync(cancel);
            SqliteEngine.RefuseOlder(await SqliteEngine.VersionAsync(db.Database.GetDbConnection()));
            await BreakMigrationLockAsync(db, cancel);
        }
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(Patience);
        try
        {
            await MigrateAsync(db, patience.Token);
        }
        catch (OperationCanceledException late) when (!cancel.IsCancellationRequested)
        {
            throw new TimeoutException(
                $"the database did not become ready in {Patience.TotalSeconds:0} s; "
                    + "see whether another program holds it open or locked, then start again",
                late
            );
        }
        if (office.IsSqlite)
        {
            await ReleaseLeasesAsync(db, cancel);
            LeftOvers.Remove(folder, DateTimeOffset.MaxValue);
        }
        else
        {
            // Other nodes may be writing into the same folder; nobody writes one file for a day.
            LeftOvers.Remove(folder, TimeProvider.System.GetUtcNow().AddDays(-1));
        }
    }

    public void Dispose() => _lock?.Dispose();

    /// <summary>SQLite's write-ahead log needs memory that two processes share, and locks that hold: network disks give neither.</summary>
    internal static void RefuseNetworkDisk(string root, DriveType disk)
    {
        if (disk == DriveType.Network)
        {
            throw new InvalidOperationException(
                $"{root} lies on a network file system, where SQLite loses data; put the data folder on a disk of this machine or use PostgreSQL"
            );
        }
    }

    // One after the other: each is a transaction of its own, so a start that was killed goes on where it stood.
    private static async Task MigrateAsync(OfficeDb db, CancellationToken cancel)
    {
        var migrator = db.GetService<IMigrator>();
        foreach (var name in await db.Database.GetPendingMigrationsAsync(cancel))
        {
            Fault.Point("migrating.before-one");
            await migrator.MigrateAsync(name, cancel);
            Fault.Point("migrating.after-one");
        }
    }

    // The operating system drops this lock when the process dies, however it dies.
    private FileStream OnlyProcess()
    {
        try
        {
            return new FileStream(folder.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException held)
        {
            throw new InvalidOperationException(
                $"another ProofDesk process is using {folder.Root}; stop it, or give this one a data folder of its own",
                held
            );
        }
    }

    // EF Core marks a running migration with a row and waits for ever when a kill left it there. Under our file lock no other
    // process can be migrating, so a row found now is stale.
    private static async Task BreakMigrationLockAsync(OfficeDb db, CancellationToken cancel)
    {
        await using var command = db.Database.GetDbConnection().CreateCommand();
        command.CommandText = "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = '__EFMigrationsLock'";
        if ((long)(await command.ExecuteScalarAsync(cancel))! > 0)
        {
            command.CommandText = "DELETE FROM \"__EFMigrationsLock\"";
            await command.ExecuteNonQueryAsync(cancel);
        }
    }

    // Only one process can hold this file, so whoever holds a lease is a process that ended: no need to wait it out.
    private static async Task ReleaseLeasesAsync(OfficeDb db, CancellationToken cancel)
    {
        var past = DateTimeOffset.UnixEpoch;
        await db
            .OutboxMails.Where(row => row.State == MailState.Sending)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.LeaseUntil, past), cancel);
        await db
            .RenderWork.Where(row => row.State == RenderState.Running)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.LeaseUntil, past), cancel);
        await db
            .SheetCells.Where(row => row.State == CellState.Running)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.LeaseUntil, past), cancel);
    }
}
