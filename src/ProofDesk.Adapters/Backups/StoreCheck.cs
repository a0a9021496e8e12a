using System.Data;
using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Backups;

/// <param name="Keys">public log keys from elsewhere; none = those the data folder names itself</param>
/// <param name="LeftOverAge">temporary files older than this are left-overs of a crash; younger ones may be in use</param>
public sealed record StoreCheckOptions(IReadOnlyList<VerifierKey> Keys, TimeSpan LeftOverAge)
{
    public static StoreCheckOptions Usual { get; } = new([], TimeSpan.FromHours(1));
}

/// <summary>
/// `proofdesk verify-store`: everything sealed is compared with its digest, its leaf and the signed checkpoints, and every stored
/// file with its name. It reads one snapshot and takes no lock, so it runs beside a working server.
/// </summary>
public sealed class StoreCheck(OfficeSettings settings, TimeProvider time)
{
    /// <exception cref="StoreUnreadableException">there is nothing that could be checked</exception>
    public async Task<StoreReport> RunAsync(StoreCheckOptions options, CancellationToken cancel = default)
    {
        var folder = Existing(settings);
        using var office = new Office(settings, folder);
        var found = new StoreFindings();
        var wanted = new WantedFiles();
        try
        {
            await using var db = office.Open();
            await CheckDatabaseAsync(db, office.IsSqlite, folder, options, found, wanted, cancel);
        }
        catch (Exception broken) when (broken is not OperationCanceledException and not StoreUnreadableException)
        {
            found.Wrong("database.unreadable", $"the database cannot be read to its end: {Line(broken)}");
        }
        await FileCheck.RunAsync(folder, wanted, options, time.GetUtcNow(), found, cancel);
        return found.Report();
    }

    /// <exception cref="StoreUnreadableException">there is no store</exception>
    internal static DataFolder Existing(OfficeSettings settings)
    {
        var root = Path.GetFullPath(settings.DataFolder);
        if (!Directory.Exists(root))
        {
            throw new StoreUnreadableException($"there is no data folder {root}");
        }
        if (settings.PostgresConnection.Length == 0 && !File.Exists(Path.Combine(root, DataFolder.DatabaseName)))
        {
            throw new StoreUnreadableException(
                $"{root} holds no {DataFolder.DatabaseName}; name the data folder of the server, or give --postgres"
            );
        }
        return new DataFolder(root);
    }

    private static async Task CheckDatabaseAsync(
        OfficeDb db,
        bool sqlite,
        DataFolder folder,
        StoreCheckOptions options,
        StoreFindings found,
        WantedFiles wanted,
        CancellationToken cancel
    )
    {
        await db.Database.OpenConnectionAsync(cancel);
        await using var snapshot = await SnapshotAsync(db, sqlite, cancel);
        var missing = await db.Database.GetPendingMigrationsAsync(cancel);
        if (missing.Any())
        {
            throw new StoreUnreadableException(
                $"the database lacks {missing.Count()} changes of its tables, first {missing.First()}; start the server of this version once"
            );
        }
        await Each("structure", () => GuardCheck.RunAsync(db, sqlite, found, cancel), found);
        var record = new RecordCheck(db, found, wanted);
        var log = await LogCheck.ReadAsync(db, found, cancel);
        await Each("versions", () => record.VersionsAsync(log, cancel), found);
        await Each("decisions", () => record.DecisionsAsync(log, cancel), found);
        await Each("events", () => record.EventsAsync(log, cancel), found);
        await Each("log", () => log.RunAsync(db, folder, options.Keys, cancel), found);
        await Each("orders", () => wanted.ReadAsync(db, cancel), found);
        await Each("mail", () => MailCheck.RunAsync(db, folder, found, cancel), found);
    }

    // A cell that no longer converts stops the reading of its table, not the check.
    private static async Task Each(string what, Func<Task> check, StoreFindings found)
    {
        try
        {
            await check();
        }
        catch (Exception broken) when (broken is not OperationCanceledException and not StoreUnreadableException)
        {
            found.Wrong($"{what}.unreadable", $"the {what} cannot be read to their end: {Line(broken)}");
        }
    }

    // Microsoft.Data.Sqlite begins IMMEDIATE unless told otherwise, which would hold up the server.
    private static async Task<DbTransaction> SnapshotAsync(OfficeDb db, bool sqlite, CancellationToken cancel)
    {
        var connection = db.Database.GetDbConnection();
        var snapshot = sqlite
            ? ((SqliteConnection)connection).BeginTransaction(deferred: true)
            : await connection.BeginTransactionAsync(IsolationLevel.RepeatableRead, cancel);
        await db.Database.UseTransactionAsync(snapshot, cancel);
        return snapshot;
    }

    private static string Line(Exception broken)
    {
        var inner = broken;
        while (inner.InnerException is { } next)
        {
            inner = next;
        }
        return inner.Message.ReplaceLineEndings(" ").TrimEnd('.');
    }
}

/// <summary>There is no store where one was looked for, or it is of another version.</summary>
public sealed class StoreUnreadableException(string message) : InvalidOperationException(message);
