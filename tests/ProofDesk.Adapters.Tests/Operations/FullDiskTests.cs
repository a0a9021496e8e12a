using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Operations;
using ProofDesk.Adapters.Tests.Database;

namespace ProofDesk.Adapters.Tests.Operations;

/// <summary>A disk of 12 MB in memory, filled to the last byte. Needs root to mount it.</summary>
public sealed class FullDiskTests
{
    [SkippableFact]
    public async Task On_a_full_disk_a_decision_is_written_into_the_room_that_was_kept_back()
    {
        using var disk = SmallDisk.OrSkip();
        await using var shop = await disk.ShopAsync(reserveMegabytes: 2);
        var proof = await shop.SentVersionAsync();
        Assert.True(shop.Get<DiskReserve>().Take());
        disk.Fill();

        var said = await shop.Deciding.DecideAsync(TestShop.Approval(proof));

        Assert.IsType<DecisionResult.Recorded>(said);
        Assert.False(shop.Get<DiskReserve>().Held);
        Assert.False(shop.Get<DiskReserve>().Take());
        disk.Free();
        Assert.True(shop.Get<DiskReserve>().Take());
        Assert.Empty((await Check(shop)).Problems);
    }

    [SkippableFact]
    public async Task On_a_full_disk_without_room_kept_back_nothing_is_half_written_and_it_works_again_later()
    {
        using var disk = SmallDisk.OrSkip();
        await using var shop = await disk.ShopAsync(reserveMegabytes: 0);
        var proof = await shop.SentVersionAsync();
        disk.Fill();

        var failure = await Record.ExceptionAsync(() => shop.Deciding.DecideAsync(TestShop.Approval(proof)));

        Assert.Equal(
            13,
            Assert
                .IsType<SqliteException>(failure is DbUpdateException ? failure.InnerException : failure)
                .SqliteErrorCode
        );
        Assert.Equal(0, await shop.CountAsync<Decision>());
        var upload = await Record.ExceptionAsync(() =>
            shop.Get<IFileStore>().PutAsync(new MemoryStream(new byte[100_000]))
        );
        Assert.Equal(28, Assert.IsType<IOException>(upload).HResult);
        disk.Free();
        Assert.IsType<DecisionResult.Recorded>(await shop.Deciding.DecideAsync(TestShop.Approval(proof)));
        Assert.Empty((await Check(shop)).Problems);
    }

    [Theory]
    [InlineData(DriveType.Network, true)]
    [InlineData(DriveType.Fixed, false)]
    [InlineData(DriveType.Ram, false)]
    public void A_network_disk_is_refused_for_SQLite(DriveType disk, bool refused)
    {
        var failure = Record.Exception(() => OfficeOpening.RefuseNetworkDisk("/srv/data", disk));

        Assert.Equal(
            refused
                ? "/srv/data lies on a network file system, where SQLite loses data; put the data folder on a disk of this machine or use PostgreSQL"
                : null,
            failure?.Message
        );
    }

    [Fact]
    public async Task A_writer_behind_another_program_gives_up_after_five_seconds_and_the_queue_with_it()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await using var other = new SqliteConnection($"Data Source={shop.Folder.Database};Pooling=False");
        await other.OpenAsync();
        await using var hold = other.CreateCommand();
        hold.CommandText = "BEGIN IMMEDIATE";
        await hold.ExecuteNonQueryAsync();
        var begun = System.Diagnostics.Stopwatch.StartNew();

        var failures = await Task.WhenAll(
            Enumerable.Range(0, 20).Select(_ => Task.Run(() => Record.ExceptionAsync(() => shop.AddShopRowAsync())))
        );

        Assert.All(failures, failure => Assert.Equal(5, Assert.IsType<SqliteException>(failure).SqliteErrorCode));
        // Twenty waits of five seconds one after the other would be a hundred.
        Assert.InRange(begun.Elapsed.TotalSeconds, 4.5, 30);
        hold.CommandText = "ROLLBACK";
        await hold.ExecuteNonQueryAsync();
        await shop.AddShopRowAsync();
    }

    private static Task<StoreReport> Check(TestShop shop) =>
        new StoreCheck(shop.Settings, TimeProvider.System).RunAsync(StoreCheckOptions.Usual);
}
