using System.Collections.Concurrent;
using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Backups;

public sealed class StoreCheckTests(ITestOutputHelper output)
{
    private static readonly StoreCheckOptions Now = StoreCheckOptions.Usual with { LeftOverAge = TimeSpan.Zero };

    [SkippableTheory, OnBothEngines]
    public async Task A_store_with_every_kind_of_entry_is_whole_while_the_server_runs(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await FillAsync(shop);

        var report = await CheckAsync(shop.Settings);

        Assert.Empty(report.Problems);
        Assert.Equal((3, 5, 2, 10), (report.Versions, report.Decisions, report.Events, report.Leaves));
        Assert.Equal(report.Leaves, report.Checkpoints);
        Assert.Equal(0, report.Unreferenced);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_sealed_row_changed_with_its_guard_switched_off_is_found(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await FillAsync(shop);
        await using (var db = shop.Office.Open())
        {
            await db.Database.ExecuteSqlRawAsync(
                engine == Engine.Sqlite
                    ? "DROP TRIGGER decision_no_update"
                    : "ALTER TABLE decision DISABLE TRIGGER decision_no_update"
            );
            await db.Database.ExecuteSqlRawAsync(
                "UPDATE decision SET \"TypedName\" = 'Somebody Else' WHERE \"LeafIndex\" = 1"
            );
        }

        var report = await CheckAsync(shop.Settings);

        Assert.Equal(
            ["guard", "row.changed"],
            report.Problems.Select(problem =>
                problem.Code.Replace(".missing", "").Replace(".changed", "", StringComparison.Ordinal) == "guard"
                    ? "guard"
                    : problem.Code
            )
        );
        Assert.EndsWith(
            "the name in its row is not what was sealed",
            report.Problems[1].Text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Any_change_to_what_is_sealed_is_found()
    {
        var changes = LongCounts.Asked ? LongCounts.Of(10_000) : 60;
        var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await FillAsync(shop);
        await shop.CloseAsync();
        var home = shop.Settings.DataFolder;
        Assert.True((await CheckAsync(shop.Settings)).Whole);
        var missed = new ConcurrentBag<string>();
        var found = new ConcurrentDictionary<string, int>(StringComparer.Ordinal);
        await Parallel.ForEachAsync(
            Enumerable.Range(0, changes),
            async (seed, _) =>
            {
                var copy = new DataFolder(Copy(home));
                var change = new StoreMutation(copy, new Random(seed)).Make();
                var report = await CheckAsync(new OfficeSettings { DataFolder = copy.Root });
                if (report.Whole)
                {
                    missed.Add($"{seed}: {change}");
                }
                else
                {
                    found.AddOrUpdate(report.Problems[0].Code, 1, (_, times) => times + 1);
                }
                Directory.Delete(copy.Root, recursive: true);
            }
        );
        Directory.Delete(home, recursive: true);

        output.WriteLine($"{changes} changes, {missed.Count} not found; found first as:");
        output.WriteLine(
            string.Join(
                '\n',
                found.OrderBy(code => code.Key, StringComparer.Ordinal).Select(code => $"{code.Value, 6} {code.Key}")
            )
        );
        Assert.Empty(missed);
    }

    [Fact]
    public async Task What_a_crash_leaves_half_written_is_named_and_gone_after_the_next_start()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        var half = Path.Combine(shop.Folder.Blobs, "tmp", "half");
        await File.WriteAllTextAsync(half, "half");
        var settings = shop.Settings;

        var before = await CheckAsync(settings);
        await shop.RestartAsync();
        var after = await CheckAsync(settings);

        Assert.Equal(
            $"{half} is left over from a write that never ended; the next start removes it",
            Assert.Single(before.Problems).Text
        );
        Assert.Empty(after.Problems);
    }

    [Fact]
    public async Task A_letter_whose_key_is_gone_is_named()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        var proof = await shop.SentVersionAsync();
        Directory.Delete(shop.Folder.DataProtectionKeys, recursive: true);

        var report = await CheckAsync(shop.Settings);

        Assert.Equal(
            $"mail {proof.MailId} to kit@harbour.example waits, and the key that opens it is not in {shop.Folder.DataProtectionKeys}; "
                + "restore keys/, or send it again from the desk",
            Assert.Single(report.Problems).Text
        );
    }

    [Fact]
    public async Task A_folder_without_a_store_is_refused_and_nothing_is_made_in_it()
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-test-").FullName;

        var refused = await Assert.ThrowsAsync<StoreUnreadableException>(() =>
            CheckAsync(new OfficeSettings { DataFolder = folder })
        );

        Assert.Equal(
            $"{folder} holds no proofdesk.db; name the data folder of the server, or give --postgres",
            refused.Message
        );
        Assert.Empty(Directory.GetFileSystemEntries(folder));
        Directory.Delete(folder);
    }

    /// <summary>Approved; approved and taken back and asked to change; given elsewhere; an event of production and one of the house.</summary>
    internal static async Task FillAsync(TestShop shop)
    {
        var first = await shop.SentVersionAsync();
        await DecideAsync(shop, TestShop.Approval(first, "n1"));
        var second = await shop.SentVersionAsync();
        var id = await DecideAsync(shop, TestShop.Approval(second, "n2") with { Comment = "looks good" });
        await DecideAsync(
            shop,
            TestShop.Approval(second, "n3") with
            {
                Kind = DecisionKind.Withdraw,
                Withdraws = id,
                Confirmed = Confirmations.None,
            }
        );
        await DecideAsync(shop, TestShop.Changes(second, "n4"));
        var third = await shop.SentVersionAsync();
        var told = await shop.Deciding.RecordElsewhereAsync(
            new ElsewhereRequest(
                third.VersionId,
                DecisionKind.Approve,
                "n5",
                "Kim Harbour",
                "anna",
                "telephone",
                TestShop.Start.AddDays(-1),
                [],
                null,
                (await shop.Get<IFileStore>().PutAsync(new MemoryStream("a note"u8.ToArray()))).Sha256
            )
        );
        Assert.IsType<DecisionResult.Recorded>(told);
        await AppendAsync(shop, EventKind.FilmsExported, first);
        await AppendAsync(shop, EventKind.KeyAdded, null);
        while (await shop.Get<OutboxRunner>().RunOneAsync("test", CancellationToken.None)) { }
    }

    internal static Task<StoreReport> CheckAsync(OfficeSettings settings) =>
        new StoreCheck(settings, TimeProvider.System).RunAsync(Now);

    internal static string Copy(string folder)
    {
        var to = Directory.CreateTempSubdirectory("proofdesk-test-").FullName;
        foreach (var below in Directory.GetDirectories(folder, "*", SearchOption.AllDirectories))
        {
            Directory.CreateDirectory(Path.Combine(to, Path.GetRelativePath(folder, below)));
        }
        foreach (var file in Directory.GetFiles(folder, "*", SearchOption.AllDirectories))
        {
            File.Copy(file, Path.Combine(to, Path.GetRelativePath(folder, file)));
        }
        return to;
    }

    private static async Task<Guid> DecideAsync(TestShop shop, DecisionRequest request) =>
        Assert.IsType<DecisionResult.Recorded>(await shop.Deciding.DecideAsync(request)).DecisionId;

    private static async Task AppendAsync(TestShop shop, EventKind kind, SentProof? proof)
    {
        var leaf = await shop.Office.WriteAsync(async db =>
            (
                await shop.Events.AppendAsync(
                    db,
                    new Happening(
                        kind,
                        "anna",
                        ImmutableSortedDictionary<string, string>.Empty.Add("why", "test"),
                        null,
                        proof?.VersionId,
                        proof is not null && Sha256Digest.TryParseHex(proof.Manifest, out var digest) ? digest : null
                    ),
                    CancellationToken.None
                )
            ).Leaf
        );
        await shop.Events.PublishAsync(leaf);
    }
}
