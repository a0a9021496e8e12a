using System.Globalization;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Renders;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Cli;

/// <summary>What backup, restore and verify-store have in common: which store, how it is said, the exit codes.</summary>
internal static class Store
{
    public const int Whole = 0;

    /// <summary>Something of the store is wrong; it is listed.</summary>
    public const int Wrong = 1;

    /// <summary>As the server is told: the same two names in the environment, so that a password stays out of the process list.</summary>
    public static OfficeSettings Settings(Options given, string? folder) =>
        new()
        {
            DataFolder =
                folder ?? given.Value("--data", Environment.GetEnvironmentVariable("Office__DataFolder") ?? "data"),
            PostgresConnection = given.Value(
                "--postgres",
                Environment.GetEnvironmentVariable("Office__PostgresConnection") ?? ""
            ),
        };

    public static void Say(StoreReport report, TextWriter output, TextWriter error)
    {
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{report.Leaves} log entries under {report.Checkpoints} checkpoints: {report.Versions} versions, {report.Decisions} decisions, {report.Events} events"
            )
        );
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{report.Files} stored files, {report.FileBytes / 1e6:0.0} MB, {report.Unreferenced} of them named by nothing"
            )
        );
        foreach (var problem in report.Problems)
        {
            error.WriteLine($"{problem.Code}: {problem.Text}");
        }
        output.WriteLine(
            report.Whole ? "whole: everything is as it was sealed" : $"not whole: {report.Problems.Count} findings"
        );
    }

    /// <summary>Runs it, and turns what a person can mend into a line and an exit code.</summary>
    public static Task<int> GuardedAsync(TextWriter error, Func<Task<int>> run) =>
        Refusal.SaidAsync(
            error,
            async () =>
            {
                try
                {
                    return await run();
                }
                catch (UsageProblem problem)
                {
                    return CommandLine.Misunderstood(error, problem.Message, $"hint: {problem.Hint}");
                }
            }
        );
}

/// <summary>`proofdesk verify-store`</summary>
internal static class VerifyStoreCommand
{
    private const string Help = """
        usage: proofdesk verify-store [DIR] [--key KEY[,KEY]] [--rerender ORDER/VERSION] [--postgres CONNECTION]
          DIR                    the server's data folder (data); the server may be running
          --key KEY[,KEY]        the log's public keys from elsewhere; without them those in the folder are believed
          --rerender ORDER/VERSION
                                 then makes that version again from what it binds and compares every byte, e.g. 1001/2
          --postgres CONNECTION  the database, when it is not SQLite; better in the environment: Office__PostgresConnection
        exit code: 0 whole, 1 something is not as it was sealed, 2 not understood, 3 there was nothing to check, or the version
        cannot be made again, 4 whole, but what is made again differs
        """;

    public static Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return Task.FromResult(CommandLine.Done);
        }
        return Store.GuardedAsync(
            error,
            async () =>
            {
                var given = Options.Read(args, ["--key", "--rerender", "--postgres"], 1);
                var settings = Store.Settings(given, given.Words.Count == 1 ? given.Words[0] : null);
                var keys = given.List("--key", "").Select(VerifierKey.Parse).ToList();
                var report = await new StoreCheck(settings, TimeProvider.System).RunAsync(
                    StoreCheckOptions.Usual with
                    {
                        Keys = keys,
                    },
                    cancel
                );
                Store.Say(report, output, error);
                if (!report.Whole)
                    return Store.Wrong;
                var wanted = given.Value("--rerender", "");
                return wanted.Length == 0 || await IsMadeAgainAsync(settings, wanted, output, cancel)
                    ? Store.Whole
                    : RerenderCommand.Different;
            }
        );
    }

    private static async Task<bool> IsMadeAgainAsync(
        OfficeSettings settings,
        string wanted,
        TextWriter output,
        CancellationToken cancel
    )
    {
        var numbers = wanted.Split('/').Select(n => int.TryParse(n, CultureInfo.InvariantCulture, out var i) ? i : 0);
        if (numbers.ToArray() is not [> 0 and var order, > 0 and var version])
            throw new UsageProblem(
                $"--rerender is an order and its version such as 1001/2; '{wanted}' given",
                "'proofdesk verify-store --help' lists the options"
            );
        using var stored = await StoredVersion.FindAsync(settings, order, version, cancel);
        return await RerenderCommand.RunAsync(stored.Manifest, stored.Open, output, cancel);
    }
}

/// <summary>`proofdesk backup`</summary>
internal static class BackupCommand
{
    private const string Help = """
        usage: proofdesk backup FOLDER [--data DIR] [--keys yes|no] [--settings FILE] [--postgres CONNECTION]
          FOLDER                 new or empty, on another disk
          --data DIR             the server's data folder (data); the server may be running
          --keys yes|no          whether the keys folder goes along (yes); who holds it can sign in the shop's name
          --settings FILE        a settings file to keep with it
          --postgres CONNECTION  files and keys only: run pg_dump first, so that every file the database names is there
        exit code: 0 done, 1 done but stored files are damaged, 2 not understood, 3 nothing was written
        """;

    public static Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return Task.FromResult(CommandLine.Done);
        }
        return Store.GuardedAsync(
            error,
            async () =>
            {
                var given = Options.Read(args, ["--data", "--keys", "--settings", "--postgres"], 1);
                if (given.Words.Count == 0)
                    throw new UsageProblem("which folder?", "'proofdesk backup --help' lists the options");
                var keys = given.Value("--keys", "yes");
                if (keys is not ("yes" or "no"))
                    throw new UsageProblem($"--keys is yes or no; '{keys}' given");
                var settingsFile = given.Value("--settings", "");
                var made = await new Backup(Store.Settings(given, null), TimeProvider.System).MakeAsync(
                    given.Words[0],
                    new BackupChoice(keys == "yes", settingsFile.Length > 0 ? settingsFile : null),
                    cancel
                );
                Say(made, output, error);
                return made.Damaged.Count == 0 ? Store.Whole : Store.Wrong;
            }
        );
    }

    private static void Say(BackupMade made, TextWriter output, TextWriter error)
    {
        var index = made.Index;
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{index.Files.Count} files, {index.Bytes / 1e6:0.0} MB, log of {index.Leaves} entries"
            )
        );
        output.WriteLine(
            index.Keys
                ? "the keys are in it: whoever reads this folder can sign in the shop's name and open waiting letters; keep it encrypted"
                : "the keys are not in it: keep a copy of the keys folder elsewhere, a restore needs it"
        );
        if (index.Database == "postgresql")
        {
            output.WriteLine("the database is not in it: it is what pg_dump wrote before this");
        }
        output.WriteLine($"index {made.IndexSha256}");
        foreach (var path in made.Damaged)
        {
            error.WriteLine($"damaged in the store already, copied as it is: {path}");
        }
    }
}

/// <summary>`proofdesk restore`</summary>
internal static class RestoreCommand
{
    private const string Help = """
        usage: proofdesk restore FOLDER --into DIR [--keys FOLDER] [--last-seen FILE] [--index SHA256] [--postgres CONNECTION]
          FOLDER                 what 'proofdesk backup' wrote
          --into DIR             the data folder to make; it must not be there, or be empty
          --keys FOLDER          the keys folder of the lost server, when it is still there: it knows how far the log had come
          --last-seen FILE       the newest receipt (.tlog-proof) or checkpoint anybody has
          --index SHA256         what 'proofdesk backup' printed behind the word index
          --postgres CONNECTION  the database that pg_restore filled
        exit code: 0 whole, 1 restored but not whole or the log will not sign, 2 not understood, 3 nothing was restored
        """;

    public static Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return Task.FromResult(CommandLine.Done);
        }
        return Store.GuardedAsync(
            error,
            async () =>
            {
                var given = Options.Read(args, ["--into", "--keys", "--last-seen", "--index", "--postgres"], 1);
                if (given.Words.Count == 0)
                    throw new UsageProblem("which backup?", "'proofdesk restore --help' lists the options");
                var settings = Store.Settings(given, given.Needed("--into"));
                var seen = given.Value("--last-seen", "");
                var restored = await new Restore(settings, TimeProvider.System).RunAsync(
                    given.Words[0],
                    new RestoreChoice(
                        Empty(given.Value("--keys", "")),
                        seen.Length > 0 ? await File.ReadAllTextAsync(seen, cancel) : null,
                        Empty(given.Value("--index", ""))
                    ),
                    cancel
                );
                return Say(restored, settings.DataFolder, output, error);
            }
        );
    }

    private static int Say(Restored restored, string into, TextWriter output, TextWriter error)
    {
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"restored into {into} what was backed up {restored.Index.MadeAt:yyyy-MM-dd HH:mm:ss}Z, {restored.Index.Files.Count} files"
            )
        );
        Store.Say(restored.Report, output, error);
        if (restored.Lost is { } lost)
        {
            error.WriteLine($"the log will not sign: {lost}");
        }
        else
        {
            output.WriteLine(
                $"the log goes on after {restored.Report.Leaves} entries; compare that with the newest receipt anybody has (--last-seen)"
            );
        }
        return restored.Report.Whole && restored.Lost is null ? Store.Whole : Store.Wrong;
    }

    private static string? Empty(string text) => text.Length > 0 ? text : null;
}
