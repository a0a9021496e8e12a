using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace ProofDesk.Adapters.Database;

/// <summary>What we ask of SQLite on each connection, and the oldest engine we trust.</summary>
internal static class SqliteEngine
{
    /// <summary>Versions 3.7.0 to 3.51.2 can corrupt a WAL file when two connections write and checkpoint at once.</summary>
    public static readonly Version Floor = new(3, 51, 3);

    /// <summary>
    /// How long a writer waits for another process before the visitor reads "not written yet". Writers of this process queue at the gate;
    /// who else writes is a backup tool or a console, and nobody waits half a minute for those.
    /// </summary>
    public const int BusySeconds = 5;

    public static ConnectionPromises Promises { get; } = new();

    public static string ConnectionString(string path) =>
        new SqliteConnectionStringBuilder
        {
            DataSource = path,
            ForeignKeys = true,
            DefaultTimeout = BusySeconds,
        }.ToString();

    public static void RefuseOlder(Version engine)
    {
        if (engine < Floor)
        {
            throw new InvalidOperationException(
                $"SQLite engine {engine} can corrupt its write-ahead log, ProofDesk needs {Floor} or newer; "
                    + "run the server with the SQLite library it was published with"
            );
        }
    }

    public static async Task<Version> VersionAsync(DbConnection open)
    {
        await using var command = open.CreateCommand();
        command.CommandText = "SELECT sqlite_version()";
        return Version.Parse((string)(await command.ExecuteScalarAsync())!);
    }

    /// <summary>FULL: a commit survives power loss. recursive_triggers: REPLACE fires the append-only triggers too.</summary>
    internal sealed class ConnectionPromises : DbConnectionInterceptor
    {
        private static readonly string Pragmas =
            $"PRAGMA busy_timeout={BusySeconds * 1000}; PRAGMA journal_mode=WAL; PRAGMA synchronous={Fault.SqliteSynchronous}; PRAGMA foreign_keys=ON; "
            + "PRAGMA recursive_triggers=ON; PRAGMA trusted_schema=OFF; PRAGMA cell_size_check=ON; PRAGMA mmap_size=0;";

        public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
        {
            FoldEveryLetter(connection);
            using var command = connection.CreateCommand();
            command.CommandText = Pragmas;
            command.ExecuteNonQuery();
        }

        public override async Task ConnectionOpenedAsync(
            DbConnection connection,
            ConnectionEndEventData eventData,
            CancellationToken cancellationToken = default
        )
        {
            FoldEveryLetter(connection);
            await using var command = connection.CreateCommand();
            command.CommandText = Pragmas;
            await command.ExecuteNonQueryAsync(cancellationToken);
        }

        // The engine's own lower() knows A to Z only, PostgreSQL's every letter.
        private static void FoldEveryLetter(DbConnection connection) =>
            ((SqliteConnection)connection).CreateFunction<string?, string?>(
                "lower",
                text => text?.ToLowerInvariant(),
                isDeterministic: true
            );
    }
}
