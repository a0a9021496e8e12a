using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class LogTests
{
    [SkippableTheory, OnBothEngines]
    public async Task Leaves_written_at_once_are_gapless_and_each_checkpoint_continues_the_last(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proofs = new List<SentProof>();
        for (var at = 0; at < 12; at++)
        {
            proofs.Add(await shop.SentVersionAsync());
        }

        await Task.WhenAll(
            proofs.Select((proof, at) => Task.Run(() => shop.Deciding.DecideAsync(TestShop.Approval(proof, $"n{at}"))))
        );

        await using var db = shop.Office.Open();
        var leaves = await db.LogLeaves.AsNoTracking().OrderBy(row => row.Index).ToListAsync();
        Assert.Equal(Enumerable.Range(0, 24).Select(at => (long)at), leaves.Select(leaf => leaf.Index));
        Assert.Equal(leaves.Select(leaf => leaf.At).Order(), leaves.Select(leaf => leaf.At));
        var tree = MerkleTree.Of(leaves.Select(leaf => leaf.LeafHash));
        var key = VerifierKey.Parse(shop.Log.VerifierKey);
        foreach (var checkpoint in await db.LogCheckpoints.AsNoTracking().OrderBy(row => row.Size).ToListAsync())
        {
            var head = Checkpoint.Open(checkpoint.Note, [key]);
            Assert.Equal(checkpoint.Size, head.Size);
            Assert.Equal(tree.Root((int)head.Size), head.Root);
        }
        Assert.Equal(24, await db.LogCheckpoints.CountAsync());
    }

    [SkippableTheory, OnBothEngines]
    public async Task Each_leaf_is_proven_against_the_newest_checkpoint(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));
        await shop.FrozenVersionAsync();
        await using var db = shop.Office.Open();

        foreach (var leaf in await db.LogLeaves.AsNoTracking().ToListAsync())
        {
            var proof = TlogProof.Parse((await shop.Log.ProveAsync(leaf.Index)).TlogProof);

            Assert.Equal(3, proof.Verify(leaf.LeafHash, [VerifierKey.Parse(shop.Log.VerifierKey)]).Size);
        }
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_packet_of_an_approval_is_valid_for_the_verifier_that_knows_the_shops_key(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var result = await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));
        await shop.FrozenVersionAsync();

        var packet = await shop.Records.PacketAsync(Assert.IsType<DecisionResult.Recorded>(result).DecisionId);
        using var zip = new MemoryStream();
        await shop.Records.WritePacketAsync(packet!, zip);

        zip.Position = 0;
        var options = new VerifyOptions([VerifierKey.Parse(shop.Log.VerifierKey)], []);
        var verdict = PacketVerifier.Verify(zip, options);
        Assert.True(verdict.ExitCode == 0, string.Join('\n', verdict.Steps));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_packet_has_the_same_bytes_however_far_the_log_has_grown(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var result = await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));
        var decision = Assert.IsType<DecisionResult.Recorded>(result).DecisionId;
        using var early = new MemoryStream();
        await shop.Records.WritePacketAsync((await shop.Records.PacketAsync(decision))!, early);

        await shop.FrozenVersionAsync();
        using var late = new MemoryStream();
        await shop.Records.WritePacketAsync((await shop.Records.PacketAsync(decision))!, late);

        Assert.Equal(early.ToArray(), late.ToArray());
    }

    [Fact]
    public async Task The_public_log_key_lies_in_the_data_folder_for_verify()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);

        Assert.Equal(shop.Log.VerifierKey + "\n", await File.ReadAllTextAsync(shop.Folder.Trust));
    }

    [Fact]
    public async Task A_database_put_back_from_an_old_backup_is_refused()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();
        var backup = Path.Combine(shop.Settings.DataFolder, "backup.db");
        await using (var db = shop.Office.Open())
        {
            await db.Database.ExecuteSqlAsync($"VACUUM INTO {backup}");
        }
        await shop.FrozenVersionAsync();
        SqliteConnection.ClearAllPools();
        foreach (var tail in new[] { "", "-wal", "-shm" })
        {
            File.Delete(shop.Folder.Database + tail);
        }
        File.Move(backup, shop.Folder.Database);

        var refused = await Assert.ThrowsAsync<LogRefusedException>(shop.RestartAsync);

        Assert.Equal(
            "the log has 1 leaves, a checkpoint of 2 was signed before: leaves are lost, restore them; if they are gone for good, 'proofdesk log-epoch open' lets the log go on under a new name",
            refused.Message
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_clock_set_back_does_not_turn_the_log_around(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.FrozenVersionAsync();
        await shop.Office.WriteAsync(db =>
            db.LogHeads.ExecuteUpdateAsync(set => set.SetProperty(row => row.LastAt, TestShop.Start.AddHours(5)))
        );

        await shop.FrozenVersionAsync();

        await using var db = shop.Office.Open();
        var last = await db.LogLeaves.OrderByDescending(row => row.Index).FirstAsync();
        Assert.Equal(TestShop.Start.AddHours(5).AddMilliseconds(1), last.At);
    }

    [SkippableTheory, OnBothEngines]
    [System.Runtime.Versioning.UnsupportedOSPlatform("windows")]
    public async Task The_log_key_is_a_file_for_its_owner_only_and_the_same_after_a_restart(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var before = shop.Log.VerifierKey;

        await shop.RestartAsync();

        Assert.Equal(before, shop.Log.VerifierKey);
        Assert.StartsWith("lindhag.example/proofs/1+", before, StringComparison.Ordinal);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(shop.Folder.LogKey));
    }

    [Fact]
    public async Task A_log_without_its_key_is_refused()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await shop.FrozenVersionAsync();
        var path = shop.Folder.LogKey;
        File.Delete(path);

        var refused = await Assert.ThrowsAsync<LogRefusedException>(shop.RestartAsync);

        Assert.Equal(
            $"the log has 1 leaves but its key {path} is missing; restore the keys folder from the backup",
            refused.Message
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_freeze_broken_at_any_step_leaves_no_row_and_is_done_by_the_next_try(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        var runner = shop.Get<RenderRunner>();
        string[] points =
        [
            "freezing.after-blobs",
            "freezing.after-files",
            "freezing.after-leaf",
            "freezing.after-version",
        ];

        foreach (var point in points)
        {
            var reached = false;
            Fault.OnPoint = name =>
            {
                if (name == point)
                {
                    reached = true;
                    throw new IOException($"broken at {name}");
                }
            };
            await runner.RunOneAsync("test", CancellationToken.None);
            Fault.OnPoint = null;
            shop.Time.Advance(TimeSpan.FromMinutes(1));

            Assert.True(reached, point);
            Assert.Equal(0, await shop.CountAsync<ProofDesk.Adapters.Database.LogLeaf>());
            Assert.Equal(0, await shop.CountAsync<VersionFile>());
            Assert.Equal(RenderState.Ready, (await shop.Renders.ViewAsync(version))!.State);
        }
        await runner.RunOneAsync("test", CancellationToken.None);
        await using var db = shop.Office.Open();
        Assert.Equal(VersionState.Frozen, (await db.ProofVersions.SingleAsync()).State);
        Assert.Equal(2, await db.VersionFiles.CountAsync());
    }
}
