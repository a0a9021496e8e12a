using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class MigrationTests
{
    [Fact]
    public void Neither_migration_set_lags_behind_the_model()
    {
        using var sqlite = new SqliteDesign().CreateDbContext([]);
        using var postgres = new PostgresDesign().CreateDbContext([]);

        Assert.False(sqlite.Database.HasPendingModelChanges(), "Sqlite");
        Assert.False(postgres.Database.HasPendingModelChanges(), "Postgres");
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_empty_database_gets_every_migration_and_a_second_start_none(Engine engine)
    {
        var settings = await TestShop.EmptySettingsAsync(engine);
        var folder = new DataFolder(settings.DataFolder);
        using (var office = new Office(settings, folder))
        {
            for (var start = 0; start < 2; start++)
            {
                using var opening = new OfficeOpening(office, folder);
                await opening.OpenAsync();

                await using var db = office.Open();
                Assert.Equal(db.Database.GetMigrations(), await db.Database.GetAppliedMigrationsAsync());
                Assert.Equal(0, (await db.LogHeads.SingleAsync()).Size);
            }
        }
        Directory.Delete(settings.DataFolder, recursive: true);
    }

    [Fact]
    public async Task A_migration_lock_left_by_a_kill_does_not_stop_the_next_start()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await using (var db = shop.Office.Open())
        {
            await db.Database.ExecuteSqlRawAsync(
                "CREATE TABLE IF NOT EXISTS \"__EFMigrationsLock\" (\"Id\" INTEGER NOT NULL PRIMARY KEY, \"Timestamp\" TEXT NOT NULL)"
            );
            await db.Database.ExecuteSqlRawAsync("INSERT INTO \"__EFMigrationsLock\" VALUES (1, '2026-11-24')");
        }

        await shop.RestartAsync().WaitAsync(TimeSpan.FromSeconds(30));

        Assert.Equal(0, await shop.CountAsync<Order>());
    }

    [Fact]
    public async Task A_second_server_on_one_SQLite_file_is_refused()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var second = new OfficeOpening(shop.Office, new DataFolder(shop.Settings.DataFolder));

        var refused = await Assert.ThrowsAsync<InvalidOperationException>(() => second.OpenAsync());

        Assert.Equal(
            $"another ProofDesk process is using {shop.Settings.DataFolder}; stop it, or give this one a data folder of its own",
            refused.Message
        );
    }

    [Theory]
    [InlineData("3.51.2", true)]
    [InlineData("3.40.1", true)]
    [InlineData("3.51.3", false)]
    [InlineData("3.53.3", false)]
    public void An_engine_with_the_log_bug_is_refused(string version, bool refused)
    {
        var failure = Record.Exception(() => SqliteEngine.RefuseOlder(Version.Parse(version)));

        Assert.Equal(
            refused
                ? $"SQLite engine {version} can corrupt its write-ahead log, ProofDesk needs 3.51.3 or newer; "
                    + "run the server with the SQLite library it was published with"
                : null,
            failure?.Message
        );
    }

    [Fact]
    public async Task Each_SQLite_connection_keeps_our_promises()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await using var db = shop.Office.Open();

        await db.Database.OpenConnectionAsync();
        async Task<string?> Pragma(string name)
        {
            await using var command = db.Database.GetDbConnection().CreateCommand();
            command.CommandText = "PRAGMA " + name;
            return (await command.ExecuteScalarAsync())?.ToString();
        }

        Assert.Equal("wal", await Pragma("journal_mode"));
        Assert.Equal("2", await Pragma("synchronous"));
        Assert.Equal("1", await Pragma("foreign_keys"));
        Assert.Equal("1", await Pragma("recursive_triggers"));
    }
}
