using Npgsql;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Backups;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>docs/postgres-rights.sql: the server works with the rights it leaves, and cannot change what is sealed even with raw SQL.</summary>
public sealed class PostgresRightsTests
{
    private const string Denied = "42501";

    [SkippableFact]
    public async Task The_servers_role_does_all_its_work_and_can_change_nothing_that_is_sealed()
    {
        var owner = await PostgresServer.OrSkip().NewDatabaseAsync(migrated: true);
        await RunAsync(owner, "CREATE ROLE proofdesk_server LOGIN PASSWORD 'only of this test run'");
        await RunAsync(
            owner,
            await File.ReadAllTextAsync(Path.Combine(QuickPrograms.Root(), "docs/postgres-rights.sql"))
        );
        var server = new NpgsqlConnectionStringBuilder(owner)
        {
            Username = "proofdesk_server",
            Password = "only of this test run",
        }.ToString();
        var settings = await TestShop.SettingsAsync(Engine.Postgres);
        settings.PostgresConnection = server;

        await using var shop = await TestShop.ReopenAsync(settings);
        await shop.AddShopRowAsync();
        await StoreCheckTests.FillAsync(shop);
        await shop.Get<LogKeys>().RotateAsync("owner");
        await shop.RestartAsync();
        var erased = await shop.Get<PersonErasure>().EraseAsync("kit@harbour.example", "owner", "asked by mail");
        await shop.SentVersionAsync();
        while (await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None)) { }

        Assert.Equal(5, erased.Decisions.Length);
        Assert.Empty((await StoreCheckTests.CheckAsync(settings)).Problems);
        string[] refused =
        [
            "UPDATE decision SET \"Kind\" = 'Changes'",
            "DELETE FROM decision",
            "TRUNCATE decision",
            "UPDATE log_leaf SET \"EventSha256\" = ''",
            "DELETE FROM log_leaf",
            "UPDATE log_checkpoint SET \"Note\" = ''",
            "DELETE FROM log_head",
            "DELETE FROM log_key",
            "UPDATE shop_event SET \"Actor\" = ''",
            "DELETE FROM audit_event",
            "DELETE FROM proof_version",
            "ALTER TABLE decision DISABLE TRIGGER ALL",
            "DROP TRIGGER decision_no_update ON decision",
            "CREATE OR REPLACE FUNCTION decision_no_update() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RETURN NEW; END $$",
            "SET session_replication_role = replica",
            "CREATE TABLE more (x int)",
            "DELETE FROM \"__EFMigrationsHistory\"",
            "SET ROLE app",
        ];
        foreach (var sql in refused)
        {
            var answer = await Assert.ThrowsAsync<PostgresException>(() => RunAsync(server, sql));
            Assert.Equal((sql, Denied), (sql, answer.SqlState));
        }
    }

    private static async Task RunAsync(string to, string sql)
    {
        await using var connection = new NpgsqlConnection($"{to};Pooling=false");
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
