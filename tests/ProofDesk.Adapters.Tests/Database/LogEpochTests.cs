using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>The way back after a database was put back from an old backup, from the refusal to the next decision.</summary>
public sealed class LogEpochTests
{
    [Fact]
    public async Task An_old_database_is_refused_an_epoch_is_opened_and_everything_goes_on()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        var old = shop.Log.VerifierKey;
        var kept = await LogKeyTests.DecidedAsync(shop, "n1");
        var packet = await LogKeyTests.PacketAsync(shop, kept);
        var backup = await BackupAsync(shop);
        var lost = await LogKeyTests.DecidedAsync(shop, "n2");
        var lostPacket = await LogKeyTests.PacketAsync(shop, lost);
        var mark = await File.ReadAllTextAsync(shop.Folder.LogHighWater);
        PutBack(shop, backup);

        var refused = await Assert.ThrowsAsync<LogRefusedException>(shop.RestartAsync);
        Assert.Equal(
            "the log has 2 leaves, a checkpoint of 4 was signed before: leaves are lost, restore them; if they are gone for good, 'proofdesk log-epoch open' lets the log go on under a new name",
            refused.Message
        );
        var opened = await shop.Get<LogEpochs>().OpenAsync("owner");

        Assert.Equal("lindhag.example/proofs/1/epoch-2", opened.Origin);
        Assert.Equal(
            "lost: entries 2 to 3 of lindhag.example/proofs/1. Receipts with these log indexes name decisions this database does not know; ask who holds them, and keep their packets: they stay valid",
            opened.Lost
        );
        await using (var db = shop.Office.Open())
        {
            var said = EventJson.Parse((await db.LoggedEvents.SingleAsync()).EventBytes);
            Assert.Equal(EventKind.EpochOpened, said.Kind);
            Assert.Equal(mark, said.Facts["lost-checkpoint"]);
            Assert.Equal(2, Checkpoint.ReadUnverified(said.Facts["own-checkpoint"]).Size);
            Assert.Equal(mark, (await db.LogEpochs.SingleAsync(row => row.Number == 2)).LostNote);
        }
        await shop.RestartAsync();
        var next = await LogKeyTests.PacketAsync(shop, await LogKeyTests.DecidedAsync(shop, "n3"));
        Assert.Equal(packet, await LogKeyTests.PacketAsync(shop, kept));
        Assert.All(
            new[] { packet, lostPacket, next },
            zip => Assert.Equal(0, LogKeyTests.VerifyByTrust(shop, zip).ExitCode)
        );
        Assert.Equal((0, 1), (LogKeyTests.ExitCode(packet, old), LogKeyTests.ExitCode(next, old)));
        Assert.Equal(
            opened.Origin,
            Checkpoint.ReadUnverified(await File.ReadAllTextAsync(shop.Folder.LogHighWater)).Origin
        );
    }

    [Fact]
    public async Task An_epoch_whose_mark_was_not_replaced_is_finished_by_the_next_start()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();
        var backup = await BackupAsync(shop);
        await shop.FrozenVersionAsync();
        PutBack(shop, backup);
        await Assert.ThrowsAsync<LogRefusedException>(shop.RestartAsync);
        Fault.OnPoint = name =>
        {
            if (name == "log-epoch.after-commit")
            {
                throw new IOException($"cut off at {name}");
            }
        };

        await Assert.ThrowsAsync<IOException>(() => shop.Get<LogEpochs>().OpenAsync("owner"));
        Fault.OnPoint = null;
        await shop.RestartAsync();

        Assert.Equal("lindhag.example/proofs/1/epoch-2", shop.Log.Origin);
        await shop.FrozenVersionAsync();
        await shop.RestartAsync();
    }

    [Fact]
    public async Task A_database_from_before_an_epoch_opens_an_epoch_with_a_name_of_its_own()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();
        var backup = await BackupAsync(shop);
        await shop.FrozenVersionAsync();
        foreach (var number in new[] { 2, 3 })
        {
            PutBack(shop, backup, copy: true);
            await Assert.ThrowsAsync<LogRefusedException>(shop.RestartAsync);

            var opened = await shop.Get<LogEpochs>().OpenAsync("owner");

            Assert.Equal($"lindhag.example/proofs/1/epoch-{number}", opened.Origin);
            await shop.FrozenVersionAsync();
        }
    }

    [Fact]
    public async Task A_log_that_lost_nothing_opens_no_epoch()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();

        var refused = await Assert.ThrowsAsync<LogRefusedException>(() => shop.Get<LogEpochs>().OpenAsync("owner"));

        Assert.Equal(
            "the log continues what was signed before, so nothing is lost and no new epoch is needed",
            refused.Message
        );
    }

    private static async Task<string> BackupAsync(TestShop shop)
    {
        var backup = Path.Combine(shop.Settings.DataFolder, "backup.db");
        await using var db = shop.Office.Open();
        await db.Database.ExecuteSqlAsync($"VACUUM INTO {backup}");
        return backup;
    }

    private static void PutBack(TestShop shop, string backup, bool copy = false)
    {
        SqliteConnection.ClearAllPools();
        foreach (var tail in new[] { "", "-wal", "-shm" })
        {
            File.Delete(shop.Folder.Database + tail);
        }
        File.Copy(backup, shop.Folder.Database);
        if (!copy)
        {
            File.Delete(backup);
        }
    }
}
