using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>
/// A PostgreSQL of our own for this test run: its own data folder, a free port on loopback, a password made now. As root it runs as
/// the package's user, since the server refuses root. A watcher stops it and removes its folder when the test process is gone, also
/// after a kill.
/// </summary>
internal sealed class PostgresServer
{
    private const string Missing =
        "PostgreSQL is not installed (no /usr/lib/postgresql/*/bin/initdb); apt-get install postgresql-15 to run this test";

    private static readonly Lazy<PostgresServer?> TheOne = new(Start);

    /// <summary>Folder of the newest version that is installed, or null.</summary>
    public static string? Programs { get; } =
        Directory.Exists("/usr/lib/postgresql")
            ? Directory
                .GetDirectories("/usr/lib/postgresql")
                .Select(version => Path.Combine(version, "bin"))
                .Where(folder => File.Exists(Path.Combine(folder, "initdb")))
                .OrderDescending(StringComparer.Ordinal)
                .FirstOrDefault()
            : null;

    private int _databases;

    private readonly string _connection;
    private readonly Lazy<Task<string>> _migrated;

    private PostgresServer(int port, string password)
    {
        _connection = $"Host=127.0.0.1;Port={port};Username=app;Password={password};Maximum Pool Size=20;Timeout=60";
        _migrated = new Lazy<Task<string>>(MigrateAsync);
    }

    /// <summary>Skips the test by name where there is no PostgreSQL, except in continuous integration, where it must be there.</summary>
    public static PostgresServer OrSkip()
    {
        var server = TheOne.Value;
        if (server is null && Environment.GetEnvironmentVariable("CI") is { Length: > 0 })
        {
            Assert.Fail(Missing);
        }
        Skip.If(server is null, Missing);
        return server!;
    }

    /// <summary>A database of its own for one test: empty, or a copy of one that was migrated once.</summary>
    public async Task<string> NewDatabaseAsync(bool migrated)
    {
        var template = migrated ? await _migrated.Value : "template0";
        var name = $"shop{Interlocked.Increment(ref _databases)}";
        await using var connection = new NpgsqlConnection($"{_connection};Database=postgres;Pooling=false");
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand($"CREATE DATABASE {name} TEMPLATE {template}", connection);
        await command.ExecuteNonQueryAsync();
        return Of(name);
    }

    private async Task<string> MigrateAsync()
    {
        var connection = await NewDatabaseAsync(migrated: false);
        var options = new DbContextOptionsBuilder<PostgresOfficeDb>().UseNpgsql(connection + ";Pooling=false").Options;
        await using var db = new PostgresOfficeDb(options);
        await db.Database.MigrateAsync();
        return new NpgsqlConnectionStringBuilder(connection).Database!;
    }

    private string Of(string database) => $"{_connection};Database={database}";

    private static PostgresServer? Start()
    {
        var bin = Programs;
        if (bin is null)
        {
            return null;
        }
        var data = Path.Combine(Path.GetTempPath(), $"proofdesk-postgres-{Guid.NewGuid():N}");
        var password = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        var port = FreePort();
        var user = Environment.IsPrivilegedProcess ? "runuser -u postgres -- " : "";
        Shell(
            $"""
            set -e
            {user}mkdir -m 0700 '{data}'
            printf %s '{password}' | {user}sh -c 'umask 077; cat > {data}.pw'
            {user}{bin}/initdb -D '{data}/db' -U app --auth=scram-sha-256 --pwfile='{data}.pw' -E UTF8 --locale=C.UTF-8 --no-sync >/dev/null
            rm -f '{data}.pw'
            {user}{bin}/pg_ctl -D '{data}/db' -w -l '{data}/log' -o "-c listen_addresses=127.0.0.1 -p {port} -c unix_socket_directories={data} -c fsync=off -c max_connections=300" start >/dev/null
            (while kill -0 {Environment.ProcessId} 2>/dev/null; do sleep 1; done
             {user}{bin}/pg_ctl -D '{data}/db' -m immediate stop; rm -rf '{data}') >/dev/null 2>&1 </dev/null &
            """
        );
        return new PostgresServer(port, password);
    }

    private static void Shell(string script)
    {
        using var shell = Process.Start(new ProcessStartInfo("/bin/sh", ["-c", script]) { WorkingDirectory = "/tmp" })!;
        shell.WaitForExit();
        Assert.True(shell.ExitCode == 0, $"PostgreSQL did not start: exit {shell.ExitCode}");
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
