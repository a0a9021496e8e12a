using System.Diagnostics;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class KillTests
{
    private const int Kills = 6;

    /// <summary>SIGKILL at moments nobody chose; what was acknowledged is there once and whole, what was begun is whole or absent.</summary>
    [Fact]
    public async Task Killed_at_any_moment_the_shop_keeps_every_acknowledged_decision_and_sends_every_mail()
    {
        var seeded = await TestShop.OpenAsync(Engine.Sqlite);
        var settings = seeded.Settings;
        await seeded.CloseAsync();
        var acknowledged = new List<Guid>();
        for (var kill = 0; kill < Kills; kill++)
        {
            acknowledged.AddRange(RunAndKill(settings.DataFolder, decisions: 1 + kill, afterMs: 7 * kill));
        }

        await using var shop = await TestShop.ReopenAsync(settings);
        while (await shop.Get<OutboxRunner>().RunOneAsync("after", CancellationToken.None)) { }

        await using var db = shop.Office.Open();
        var decisions = await db.Decisions.AsNoTracking().ToListAsync();
        Assert.Empty(acknowledged.Except(decisions.Select(decision => decision.Id)));
        Assert.True(acknowledged.Count >= Kills, $"{acknowledged.Count} decisions in {Kills} runs");
        Assert.Equal(decisions.Count, await db.DecisionSlots.CountAsync());
        foreach (var decision in decisions)
        {
            var leaf = await db.LogLeaves.SingleAsync(row => row.Ref == decision.Id);
            Assert.Equal(decision.LeafIndex, leaf.Index);
            Assert.Equal(2, await db.OutboxMails.CountAsync(mail => mail.DecisionId == decision.Id));
        }
        var tree = MerkleTree.Of(
            await db.LogLeaves.OrderBy(row => row.Index).Select(row => row.LeafHash).ToListAsync()
        );
        var key = VerifierKey.Parse(shop.Log.VerifierKey);
        Assert.All(
            await db.LogCheckpoints.ToListAsync(),
            row => Assert.Equal(tree.Root((int)row.Size), Checkpoint.Open(row.Note, [key]).Root)
        );
        Assert.All(await db.OutboxMails.ToListAsync(), mail => Assert.Equal(MailState.Sent, mail.State));
        Assert.Equal(
            await db.OutboxMails.CountAsync(),
            Directory.GetFiles(Path.Combine(shop.Folder.Pickup, "new")).Length
        );
        await db.Database.OpenConnectionAsync();
        await using var check = db.Database.GetDbConnection().CreateCommand();
        check.CommandText = "PRAGMA integrity_check";
        Assert.Equal("ok", await check.ExecuteScalarAsync());
    }

    /// <summary>Waits for some decisions, then a moment more, so that the kill falls into the middle of the next.</summary>
    private static List<Guid> RunAndKill(string folder, int decisions, int afterMs)
    {
        using var process = Process.Start(
            new ProcessStartInfo("dotnet", ["exec", typeof(KillTests).Assembly.Location, folder])
            {
                RedirectStandardOutput = true,
                UseShellExecute = false,
            }
        )!;
        var acknowledged = new List<Guid>();
        while (acknowledged.Count < decisions && process.StandardOutput.ReadLine() is { } line)
        {
            acknowledged.Add(Guid.Parse(line));
        }
        Thread.Sleep(afterMs);
        process.Kill();
        process.WaitForExit();
        acknowledged.AddRange(
            process
                .StandardOutput.ReadToEnd()
                .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Where(line => Guid.TryParse(line, out _))
                .Select(Guid.Parse)
        );
        return acknowledged;
    }
}
