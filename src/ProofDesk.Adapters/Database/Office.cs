using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Operations;

namespace ProofDesk.Adapters.Database;

/// <summary>Opens short-lived contexts on the engine the settings chose, and is the only door to write transactions.</summary>
public sealed class Office : IDisposable
{
    // SQLite result codes: another connection holds the lock; no room on the disk.
    private const int SqliteBusy = 5;
    private const int SqliteFull = 13;

    private readonly Func<OfficeDb> _open;
    private readonly DiskReserve _reserve;
    private readonly WriterGate _gate;

    public Office(OfficeSettings settings, DataFolder folder)
    {
        _reserve = new DiskReserve(settings, folder);
        IsSqlite = settings.PostgresConnection.Length == 0;
        _gate = new WriterGate(IsSqlite);
        if (IsSqlite)
        {
            ConnectionString = SqliteEngine.ConnectionString(folder.Database);
            var options = new DbContextOptionsBuilder<SqliteOfficeDb>()
                .UseSqlite(ConnectionString)
                .AddInterceptors(SqliteEngine.Promises)
                .Options;
            _open = () => new SqliteOfficeDb(options);
        }
        else
        {
            ConnectionString = settings.PostgresConnection;
            var options = new DbContextOptionsBuilder<PostgresOfficeDb>().UseNpgsql(ConnectionString).Options;
            _open = () => new PostgresOfficeDb(options);
        }
    }

    public bool IsSqlite { get; }

    internal string ConnectionString { get; }

    /// <summary>For reading; the caller disposes it.</summary>
    public OfficeDb Open() => _open();

    /// <summary>
    /// One transaction: all of <paramref name="work"/> or nothing. On SQLite it begins IMMEDIATE behind the gate, on PostgreSQL a
    /// deadlock or serialisation failure runs it again, so the work must not have effects outside the context.
    /// </summary>
    public async Task<T> WriteAsync<T>(Func<OfficeDb, Task<T>> work, CancellationToken cancel = default)
    {
        const int MostTries = 5;
        var begun = Stopwatch.GetTimestamp();
        await _gate.EnterAsync(cancel);
        try
        {
            _gate.RefuseWhoWaited(Stopwatch.GetElapsedTime(begun));
            for (var attempt = 1; ; attempt++)
            {
                try
                {
                    await using var db = Open();
                    await using var transaction = await db.Database.BeginTransactionAsync(cancel);
                    var result = await work(db);
                    // A commit that was asked for is not called off: its answer would be unknown.
                    await transaction.CommitAsync(CancellationToken.None);
                    _gate.Written();
                    return result;
                }
                // Rolled back as a whole; with the room that was kept back it fits.
                catch (Exception failure) when (SqliteCode(failure) == SqliteFull && _reserve.Release()) { }
                catch (Exception failure) when (attempt < MostTries && CanRunAgain(failure)) { }
            }
        }
        catch (Exception failure) when (Refused(failure) is { } reason)
        {
            Measures.WriteRefused.Add(1, new KeyValuePair<string, object?>("reason", reason));
            throw;
        }
        finally
        {
            _gate.Leave();
            Measures.Write.Record(Stopwatch.GetElapsedTime(begun).TotalSeconds);
        }
    }

    public Task WriteAsync(Func<OfficeDb, Task> work, CancellationToken cancel = default) =>
        WriteAsync(
            async db =>
            {
                await work(db);
                return 0;
            },
            cancel
        );

    public void Dispose()
    {
        _gate.Dispose();
        if (IsSqlite)
        {
            using var connection = new SqliteConnection(ConnectionString);
            SqliteConnection.ClearPool(connection);
        }
        else
        {
            using var connection = new NpgsqlConnection(ConnectionString);
            NpgsqlConnection.ClearPool(connection);
        }
    }

    private string? Refused(Exception failure)
    {
        switch (SqliteCode(failure))
        {
            case SqliteBusy:
                _gate.Blocked();
                return "busy";
            case SqliteFull:
                return "disk-full";
            default:
                return null;
        }
    }

    private static int? SqliteCode(Exception failure)
    {
        for (var cause = failure; cause is not null; cause = cause.InnerException)
        {
            if (cause is SqliteException sqlite)
            {
                return sqlite.SqliteErrorCode;
            }
        }
        return null;
    }

    private static bool CanRunAgain(Exception failure)
    {
        for (var inner = failure; inner is not null; inner = inner.InnerException)
        {
            if (
                inner is PostgresException
                {
                    SqlState: PostgresErrorCodes.DeadlockDetected or PostgresErrorCodes.SerializationFailure
                }
            )
            {
                return true;
            }
        }
        return false;
    }
}
