using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Tests.Database;
using ProofDesk.Adapters.Work;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Backups;

public sealed class BackupTests(ITestOutputHelper output)
{
    private static bool Long => Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    [Fact]
    public async Task A_backup_taken_while_orders_are_decided_holds_all_that_was_acknowledged_before_it()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var stop = new CancellationTokenSource();
        var acknowledged = new List<Guid>();
        var writing = Task.Run(async () =>
        {
            while (!stop.IsCancellationRequested)
            {
                var proof = await shop.SentVersionAsync();
                var said = await shop.Deciding.DecideAsync(TestShop.Approval(proof, Guid.NewGuid().ToString()));
                lock (acknowledged)
                {
                    acknowledged.Add(((DecisionResult.Recorded)said).DecisionId);
                }
            }
        });
        var missing = 0;
        var rounds = Long ? 20 : 2;
        for (var round = 0; round < rounds; round++)
        {
            using var place = new Place();
            await WaitForOneMoreAsync(acknowledged);
            var before = Acknowledged(acknowledged);

            await new Backup(shop.Settings, TimeProvider.System).MakeAsync(place.Backup, new BackupChoice());
            var restored = await place.RestoreAsync(new RestoreChoice());

            Assert.Empty(restored.Report.Problems);
            Assert.Null(restored.Lost);
            await using var second = await TestShop.ReopenAsync(place.Settings);
            while (await second.Get<RenderRunner>().RunOneAsync("after", CancellationToken.None)) { }
            await using var db = second.Office.Open();
            missing += before.Except(db.Decisions.Select(decision => decision.Id)).Count();
            await second.Deciding.DecideAsync(TestShop.Approval(await second.SentVersionAsync(), "after"));
        }
        await stop.CancelAsync();
        await writing;

        output.WriteLine($"{rounds} backups, {acknowledged.Count} decisions meanwhile, {missing} missing");
        Assert.Equal(0, missing);
    }

    [Fact]
    public async Task An_older_backup_put_under_the_newer_keys_is_restored_and_will_not_sign()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var place = new Place();
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync(), "n1"));
        await new Backup(shop.Settings, TimeProvider.System).MakeAsync(place.Backup, new BackupChoice());
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync(), "n2"));

        var restored = await place.RestoreAsync(new RestoreChoice(shop.Folder.Keys));

        const string Lost =
            "the high-water was signed over 4 leaves, the log has 2: 2 are lost (an older backup was put back); the log will not sign";
        Assert.Equal(Lost, restored.Lost);
        Assert.Equal([Lost], restored.Report.Problems.Select(problem => problem.Text));
        await Assert.ThrowsAsync<LogRefusedException>(() => TestShop.ReopenAsync(place.Settings));
    }

    [Fact]
    public async Task An_older_backup_is_told_from_the_newest_receipt()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var place = new Place();
        await shop.SentVersionAsync();
        await new Backup(shop.Settings, TimeProvider.System).MakeAsync(place.Backup, new BackupChoice());
        await shop.SentVersionAsync();
        var receipt = (await shop.Log.ProveAsync(1)).TlogProof;

        var restored = await place.RestoreAsync(new RestoreChoice(LastSeen: receipt));

        Assert.True(restored.Report.Whole);
        Assert.Equal(
            "the receipt you gave was signed over 2 leaves, the restored log has 1: 1 are lost; do not let this server sign, look for a newer backup",
            restored.Lost
        );
    }

    [Fact]
    public async Task A_damaged_backup_restores_nothing_and_names_every_file()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var place = new Place();
        await shop.SentVersionAsync();
        await new Backup(shop.Settings, TimeProvider.System).MakeAsync(place.Backup, new BackupChoice());
        var bytes = await File.ReadAllBytesAsync(Path.Combine(place.Backup, "proofdesk.db"));
        bytes[^1] ^= 1;
        await File.WriteAllBytesAsync(Path.Combine(place.Backup, "proofdesk.db"), bytes);
        File.Delete(Path.Combine(place.Backup, "keys", "log.key"));

        var refused = await Assert.ThrowsAsync<BackupRefusedException>(() => place.RestoreAsync(new RestoreChoice()));

        Assert.Equal(
            "the backup is damaged, nothing was restored: keys/log.key is missing; proofdesk.db is not what was backed up",
            refused.Message
        );
        Assert.Empty(Directory.GetDirectories(place.Root, "data*"));
    }

    [Fact]
    public async Task A_folder_in_use_or_not_empty_is_not_restored_into()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var place = new Place();
        await new Backup(shop.Settings, TimeProvider.System).MakeAsync(place.Backup, new BackupChoice());
        Directory.CreateDirectory(place.Settings.DataFolder);
        await File.WriteAllTextAsync(Path.Combine(place.Settings.DataFolder, "something"), "");

        var inUse = await Assert.ThrowsAsync<BackupRefusedException>(() =>
            new Restore(shop.Settings, TimeProvider.System).RunAsync(place.Backup, new RestoreChoice())
        );
        var notEmpty = await Assert.ThrowsAsync<BackupRefusedException>(() => place.RestoreAsync(new RestoreChoice()));

        Assert.Equal(
            $"{shop.Settings.DataFolder} is in use by a running server; restore into another folder, or stop it and move its folder away",
            inUse.Message
        );
        Assert.Equal(
            $"{place.Settings.DataFolder} is not empty; move it away first (keep its keys folder: it knows the end of the log) or restore beside it",
            notEmpty.Message
        );
    }

    [Fact]
    public async Task A_backup_without_keys_is_restored_with_the_keys_folder_only()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        using var place = new Place();
        await shop.SentVersionAsync();
        await new Backup(shop.Settings, TimeProvider.System).MakeAsync(place.Backup, new BackupChoice(Keys: false));
        Assert.False(Directory.Exists(Path.Combine(place.Backup, "keys")));

        var refused = await Assert.ThrowsAsync<BackupRefusedException>(() => place.RestoreAsync(new RestoreChoice()));
        var restored = await place.RestoreAsync(new RestoreChoice(shop.Folder.Keys));

        Assert.Equal(
            "the backup was made without keys; name the keys folder it belongs to with --keys FOLDER",
            refused.Message
        );
        Assert.Empty(restored.Report.Problems);
    }

    [Fact]
    public async Task A_backup_that_did_not_end_is_none()
    {
        using var place = new Place();
        Directory.CreateDirectory(place.Backup);

        var refused = await Assert.ThrowsAsync<BackupRefusedException>(() => place.RestoreAsync(new RestoreChoice()));

        Assert.Equal(
            $"{place.Backup} has no proofdesk-backup.json: it is no backup, or one that did not end; take another",
            refused.Message
        );
    }

    [Fact]
    public async Task An_index_cannot_name_a_file_outside_its_folder()
    {
        using var place = new Place();
        Directory.CreateDirectory(place.Backup);
        await File.WriteAllTextAsync(
            Path.Combine(place.Backup, BackupIndex.FileName),
            """{"format":"proofdesk-backup/1","keys":true,"files":[{"path":"../outside","bytes":1,"sha256":""}]}"""
        );

        var refused = await Assert.ThrowsAsync<BackupRefusedException>(() => place.RestoreAsync(new RestoreChoice()));

        Assert.EndsWith(
            "names '../outside', which is not a file below the backup",
            refused.Message,
            StringComparison.Ordinal
        );
    }

    private static List<Guid> Acknowledged(List<Guid> list)
    {
        lock (list)
        {
            return [.. list];
        }
    }

    private static async Task WaitForOneMoreAsync(List<Guid> list)
    {
        var had = Acknowledged(list).Count;
        while (Acknowledged(list).Count == had)
        {
            await Task.Delay(5);
        }
    }

    private sealed class Place : IDisposable
    {
        public string Root { get; } = Directory.CreateTempSubdirectory("proofdesk-test-").FullName;
        public string Backup => Path.Combine(Root, "backup");
        public OfficeSettings Settings =>
            new() { DataFolder = Path.Combine(Root, "data"), LogOrigin = "lindhag.example/proofs/1" };

        public Task<Restored> RestoreAsync(RestoreChoice choice) =>
            new Restore(Settings, TimeProvider.System).RunAsync(Backup, choice);

        public void Dispose() => Directory.Delete(Root, recursive: true);
    }
}
