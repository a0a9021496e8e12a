using System.Diagnostics;
using Npgsql;
using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Tests.Database;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Backups;

/// <summary>The restore drill of docs/running-a-server.md on PostgreSQL: dump, backup of the files, pg_restore, restore, verify-store.</summary>
public sealed class PostgresRestoreTests(ITestOutputHelper output)
{
    [SkippableFact]
    public async Task Keys_first_then_the_database_then_the_files_come_back_whole_and_go_on()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Postgres);
        await StoreCheckTests.FillAsync(shop);
        var place = Directory.CreateTempSubdirectory("proofdesk-drill-").FullName;
        var clock = Stopwatch.StartNew();

        // The shop goes on between the steps.
        var keys = StoreCheckTests.Copy(shop.Folder.Keys);
        var sent = await shop.SentVersionAsync();
        await PgAsync("pg_dump", shop.Settings.PostgresConnection, "--format=custom", $"--file={place}/db.dump");
        await shop.SentVersionAsync();
        var made = await BackUpAsync(shop, $"{place}/files", keys: false);
        var (settings, restored) = await RestoreAsync(
            shop,
            place,
            "files",
            new RestoreChoice(keys, IndexSha256: made.IndexSha256)
        );

        Assert.Equal([], restored.Report.Problems.Select(problem => problem.Text));
        Assert.Null(restored.Lost);
        await using (var opened = await TestShop.ReopenAsync(settings, keepFolder: true))
        {
            opened.Time.Advance(TimeSpan.FromHours(1));
            var decided = await opened.Deciding.DecideAsync(TestShop.Approval(sent, "after the drill"));
            Assert.IsType<DecisionResult.Recorded>(decided);
        }
        output.WriteLine($"{clock.Elapsed.TotalSeconds:0.0} s");

        // Keys that were copied after the dump know an entry that the dump has not: nothing is signed over its place.
        await BackUpAsync(shop, $"{place}/newer", keys: true);
        var (_, refused) = await RestoreAsync(shop, place, "newer", new RestoreChoice());
        Assert.Equal(
            "the high-water was signed over 12 leaves, the log has 11: 1 are lost (an older backup was put back); the log will not sign",
            Assert.Single(refused.Report.Problems).Text
        );
        Directory.Delete(keys, recursive: true);
        Directory.Delete(place, recursive: true);
    }

    private static Task<BackupMade> BackUpAsync(TestShop shop, string to, bool keys) =>
        new Backup(shop.Settings, TimeProvider.System).MakeAsync(to, new BackupChoice { Keys = keys });

    private static async Task<(OfficeSettings, Restored)> RestoreAsync(
        TestShop shop,
        string place,
        string backup,
        RestoreChoice choice
    )
    {
        var settings = new OfficeSettings
        {
            DataFolder = $"{place}/{backup}-data",
            PostgresConnection = await PostgresServer.OrSkip().NewDatabaseAsync(migrated: false),
            LogOrigin = shop.Settings.LogOrigin,
        };
        await PgAsync("pg_restore", settings.PostgresConnection, "--exit-on-error", "--no-owner", $"{place}/db.dump");
        return (
            settings,
            await new Restore(settings, TimeProvider.System).RunAsync(Path.Combine(place, backup), choice)
        );
    }

    private static async Task PgAsync(string program, string connection, params string[] more)
    {
        var to = new NpgsqlConnectionStringBuilder(connection);
        var start = new ProcessStartInfo(
            Path.Combine(PostgresServer.Programs!, program),
            [$"--host={to.Host}", $"--port={to.Port}", $"--username={to.Username}", $"--dbname={to.Database}", .. more]
        )
        {
            RedirectStandardError = true,
            UseShellExecute = false,
            Environment = { ["PGPASSWORD"] = to.Password },
        };
        using var process = Process.Start(start)!;
        var said = await process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, $"{program}: {said}");
    }
}
