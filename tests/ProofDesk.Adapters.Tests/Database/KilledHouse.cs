using System.Diagnostics;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>A data folder whose process is killed again and again, and everything that process ever said.</summary>
internal sealed class KilledHouse : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("proofdesk-kill-").FullName;
    private readonly string _program;
    private readonly HashSet<string> _tried = new(StringComparer.Ordinal);
    private readonly HashSet<Guid> _acknowledged = [];
    private readonly HashSet<string> _backups = new(StringComparer.Ordinal);
    private readonly Dictionary<long, string> _published = [];

    /// <param name="programs">where the program that is killed lies, if not beside this one</param>
    public KilledHouse(string? programs = null)
    {
        Data = Path.Combine(_root, "data");
        _program = Path.Combine(
            programs ?? AppContext.BaseDirectory,
            $"{typeof(KilledHouse).Assembly.GetName().Name}.dll"
        );
    }

    public string Data { get; private set; }
    public string Backups => Path.Combine(_root, "backups");
    public int Acknowledged => _acknowledged.Count;

    /// <summary>Rounds that were broken off, by a decision or what goes before it, because a flush had failed.</summary>
    public int Refused { get; private set; }

    /// <summary>At the last look.</summary>
    public int Decisions { get; private set; }
    public int Mails { get; private set; }

    /// <summary>Backups that ended, and were put back and found whole.</summary>
    public int Restored { get; private set; }
    public SortedDictionary<string, int> Deaths { get; } = new(StringComparer.Ordinal);

    /// <summary>Runs it until it dies at this numbered point. False when it ended without reaching it.</summary>
    public bool DieAt(int point, IReadOnlyDictionary<string, string>? environment = null)
    {
        return Run(KilledShop.Once, point, environment, null);
    }

    /// <summary>Kills it some milliseconds after it said that a decision is done.</summary>
    public void KillAfter(int decisions, int milliseconds, IReadOnlyDictionary<string, string>? environment = null) =>
        Run(KilledShop.Endless, 0, environment, (decisions, milliseconds));

    /// <summary>A migrated folder, so that the process has less to do before it decides.</summary>
    public async Task BeginMigratedAsync() => Data = (await TestShop.SettingsAsync(Engine.Sqlite)).DataFolder;

    /// <summary>
    /// Kills it as <see cref="KillAfter"/> does, and then puts back every byte of the database that was not flushed: what is left is
    /// what a disk holds when the power went. <paramref name="shim"/> is PowerLoss/flushed.c, compiled.
    /// </summary>
    /// <param name="failing">number of the one flush that fails; 0: none</param>
    public void CutPower(string shim, string synchronous, int decisions, int milliseconds, int seed, int failing = 0)
    {
        var flushed = Path.Combine(_root, $"flushed-{Guid.NewGuid():N}");
        Directory.CreateDirectory(flushed);
        foreach (var file in Directory.GetFiles(Data, "proofdesk.db*"))
        {
            File.Copy(file, Path.Combine(flushed, Path.GetFileName(file)));
        }
        KillAfter(
            decisions,
            milliseconds,
            new Dictionary<string, string>(StringComparer.Ordinal)
            {
                ["LD_PRELOAD"] = shim,
                ["FLUSHED_OF"] = Data,
                ["FLUSHED_TO"] = flushed,
                ["FLUSHED_EARLY"] = "30",
                ["FLUSHED_SEED"] = $"{seed}",
                ["FLUSHED_FAIL"] = $"{failing}",
                [Fault.Synchronous] = synchronous,
            }
        );
        foreach (var file in Directory.GetFiles(Data, "proofdesk.db*"))
        {
            File.Delete(file);
        }
        foreach (var file in Directory.GetFiles(flushed))
        {
            File.Move(file, Path.Combine(Data, Path.GetFileName(file)));
        }
    }

    /// <summary>Restarts, lets everything finish, and looks for what may never be. One line a broken promise.</summary>
    public async Task<List<string>> BrokenAsync()
    {
        var broken = new List<string>();
        var settings = new OfficeSettings
        {
            DataFolder = Data,
            LogOrigin = "lindhag.example/proofs/1",
            UndoSeconds = 0,
        };
        try
        {
            await using (var shop = await TestShop.ReopenAsync(settings, keepFolder: true))
            {
                while (await shop.Get<RenderRunner>().RunOneAsync("after", CancellationToken.None)) { }
                while (await shop.Get<OutboxRunner>().RunOneAsync("after", CancellationToken.None)) { }
                await using var db = shop.Office.Open();
                await DecisionsAsync(db, broken);
                await MailsAsync(db, shop.Folder, broken);
                await PublishedAsync(db, shop.Folder, broken);
            }
            var report = await new StoreCheck(settings, TimeProvider.System).RunAsync(
                StoreCheckOptions.Usual with
                {
                    LeftOverAge = TimeSpan.Zero,
                }
            );
            broken.AddRange(report.Problems.Select(problem => problem.Text));
        }
        catch (Exception failure)
        {
            broken.Add($"the restart failed: {failure.Message}");
        }
        await BackupsAsync(broken);
        return broken;
    }

    public void Dispose()
    {
        Directory.Delete(_root, recursive: true);
        if (Directory.Exists(Data))
        {
            Directory.Delete(Data, recursive: true);
        }
    }

    private async Task DecisionsAsync(OfficeDb db, List<string> broken)
    {
        var decisions = await db.Decisions.AsNoTracking().ToListAsync();
        Decisions = decisions.Count;
        broken.AddRange(
            _acknowledged.Except(decisions.Select(row => row.Id)).Select(id => $"acknowledged and lost: decision {id}")
        );
        broken.AddRange(
            decisions.Where(row => !_tried.Contains(row.Nonce)).Select(row => $"nobody made decision {row.Id}")
        );
        broken.AddRange(
            decisions.GroupBy(row => row.Nonce).Where(g => g.Count() > 1).Select(g => $"decided twice: {g.Key}")
        );
        if (await db.DecisionSlots.CountAsync() != decisions.Count)
        {
            broken.Add($"{decisions.Count} decisions, {await db.DecisionSlots.CountAsync()} slots");
        }
        var leaves = await db.LogLeaves.AsNoTracking().ToDictionaryAsync(leaf => leaf.Ref, leaf => leaf.Index);
        var mails = await db.OutboxMails.AsNoTracking().Where(row => row.DecisionId != null).ToListAsync();
        foreach (var row in decisions)
        {
            if (leaves.GetValueOrDefault(row.Id, -1) != row.LeafIndex || mails.Count(m => m.DecisionId == row.Id) != 2)
            {
                broken.Add($"decision {row.Id} lacks its leaf or one of its two receipts");
            }
        }
    }

    private async Task MailsAsync(OfficeDb db, DataFolder folder, List<string> broken)
    {
        var mails = await db.OutboxMails.AsNoTracking().ToListAsync();
        Mails = mails.Count;
        broken.AddRange(
            mails.Where(mail => mail.State != MailState.Sent).Select(mail => $"mail {mail.Id} is {mail.State}")
        );
        var files = Directory
            .GetFiles(Path.Combine(folder.Pickup, "new"))
            .Select(f => Path.GetFileNameWithoutExtension(f)!);
        var odd = files.ToHashSet(StringComparer.Ordinal);
        odd.SymmetricExceptWith(mails.Select(mail => mail.Id.ToString()));
        broken.AddRange(odd.Select(id => $"mail {id} is a row or a file, not both"));
    }

    private async Task PublishedAsync(OfficeDb db, DataFolder folder, List<string> broken)
    {
        var hashes = await db.LogLeaves.OrderBy(row => row.Index).Select(row => row.LeafHash).ToListAsync();
        var tree = MerkleTree.Of(hashes);
        foreach (var (size, root) in _published)
        {
            if (size > tree.Size || Convert.ToBase64String(tree.Root((int)size)) != root)
            {
                broken.Add($"the log no longer continues the checkpoint of {size} leaves");
            }
        }
        Note(folder.LogHighWater);
    }

    // A backup with its index must restore; one without must be refused.
    private async Task BackupsAsync(List<string> broken)
    {
        foreach (var backup in Directory.Exists(Backups) ? Directory.GetDirectories(Backups) : [])
        {
            var into = Path.Combine(_root, "restored");
            try
            {
                var restored = await new Restore(
                    new OfficeSettings { DataFolder = into },
                    TimeProvider.System
                ).RunAsync(backup, new RestoreChoice());
                broken.AddRange(restored.Report.Problems.Select(problem => $"restored: {problem.Text}"));
                Restored++;
                Directory.Delete(into, recursive: true);
            }
            catch (BackupRefusedException refused)
            {
                if (_backups.Contains(backup) || !refused.Message.Contains("did not end", StringComparison.Ordinal))
                {
                    broken.Add($"a backup is refused: {refused.Message}");
                }
            }
            Directory.Delete(backup, recursive: true);
        }
        _backups.Clear();
    }

    private bool Run(
        string mode,
        int dieAt,
        IReadOnlyDictionary<string, string>? environment,
        (int Decisions, int Milliseconds)? kill
    )
    {
        var start = new ProcessStartInfo("dotnet", ["exec", _program, Data, Backups, mode])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
            Environment = { [Fault.DieAt] = $"{dieAt}", ["DOTNET_TieredPGO"] = "0" },
        };
        foreach (var (name, value) in environment ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value;
        }
        using var process = Process.Start(start)!;
        var errors = process.StandardError.ReadToEndAsync();
        var ended = false;
        var decisions = 0;
        while (process.StandardOutput.ReadLine() is { } line)
        {
            var words = line.Split(' ', 2);
            switch (words[0])
            {
                case "tries":
                    _tried.Add(words[1]);
                    break;
                case "decided":
                    _acknowledged.Add(Guid.Parse(words[1]));
                    Note(Path.Combine(Data, "keys", "log.high-water"));
                    if (kill is { } moment && ++decisions == moment.Decisions)
                    {
                        Thread.Sleep(moment.Milliseconds);
                        process.Kill();
                        Deaths["at any moment"] = Deaths.GetValueOrDefault("at any moment") + 1;
                    }
                    break;
                case "refused":
                    Refused++;
                    break;
                case "backed-up":
                    _backups.Add(words[1]);
                    break;
                case "dies":
                    Deaths[words[1]] = Deaths.GetValueOrDefault(words[1]) + 1;
                    break;
                default:
                    ended = line == "ended";
                    break;
            }
        }
        process.WaitForExit();
        // 137: killed by signal 9.
        Assert.True(ended || process.ExitCode == 137, $"exit {process.ExitCode}: {errors.Result}");
        return !ended;
    }

    private void Note(string highWater)
    {
        if (File.Exists(highWater))
        {
            var head = Checkpoint.ReadUnverified(File.ReadAllText(highWater));
            _published[head.Size] = head.RootBase64;
        }
    }
}
