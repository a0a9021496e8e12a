using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Cli;

/// <summary>
/// Opens a shop's data for verbs that write into its log, as the server does: with its lock, its migrations and its key. On SQLite the lock
/// refuses while a server runs; on PostgreSQL it is the operator who stops the servers first.
/// </summary>
internal static class OfficeDoor
{
    public static readonly string[] Known = ["--data", "--postgres", "--origin", "--by"];

    public const string Help = """
          --data DIR             the server's data folder (data)
          --postgres CONNECTION  the database, when it is not SQLite; better in the environment: Office__PostgresConnection
          --origin NAME          the log's name (Office:LogOrigin of the server); only needed before the log's first entry
          --by NAME              who does it, for the log (operator)
        The server must not be running.
        """;

    /// <param name="opensLog">false for a log that refuses to be opened as it is</param>
    public static Task<int> EnterAsync(
        Options given,
        TextWriter error,
        bool opensLog,
        Func<IServiceProvider, string, Task<int>> run,
        CancellationToken cancel
    ) =>
        Refusal.SaidAsync(
            error,
            async () =>
            {
                var services = new ServiceCollection();
                services.AddLogging();
                services.AddOffice(Settings(given));
                await using var provider = services.BuildServiceProvider();
                await provider.GetRequiredService<OfficeOpening>().OpenAsync(cancel);
                if (opensLog)
                {
                    await provider.GetRequiredService<LogKeeper>().OpenAsync(cancel);
                }
                return await run(provider, given.Value("--by", "operator"));
            }
        );

    // The server's settings file is not ours to find; the name of a log that signed before stands in its highest checkpoint.
    private static OfficeSettings Settings(Options given)
    {
        var settings = new OfficeSettings
        {
            DataFolder = given.Value("--data", Environment.GetEnvironmentVariable("Office__DataFolder") ?? "data"),
            PostgresConnection = given.Value(
                "--postgres",
                Environment.GetEnvironmentVariable("Office__PostgresConnection") ?? ""
            ),
        };
        var database = Path.Combine(settings.DataFolder, "proofdesk.db");
        if (settings.PostgresConnection.Length == 0 && !File.Exists(database))
        {
            throw new IOException($"there is no {database}; name the server's data folder with --data");
        }
        var mark = Path.Combine(settings.DataFolder, "keys", "log.high-water");
        var signed = File.Exists(mark) ? Checkpoint.ReadUnverified(File.ReadAllText(mark)).Origin : null;
        settings.LogOrigin = given.Value(
            "--origin",
            signed?.Split("/epoch-")[0] ?? Environment.GetEnvironmentVariable("Office__LogOrigin") ?? settings.LogOrigin
        );
        return settings;
    }
}
