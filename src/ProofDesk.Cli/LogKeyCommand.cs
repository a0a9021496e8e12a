using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Cli;

/// <summary>`proofdesk log-key`: the key that signs the log, its change and the end of an old one.</summary>
internal static class LogKeyCommand
{
    private const string Help = $"""
        usage: proofdesk log-key show [options]
               proofdesk log-key rotate [options]               begin a new key; old proofs go on verifying
               proofdesk log-key revoke KEY --from SIZE [options]
                                                                KEY alone no longer counts for a log of SIZE entries and over
        {OfficeDoor.Help}
        exit code: 0 done, 2 not understood, 3 refused
        """;

    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help" or "-h"])
        {
            output.WriteLine(Help);
            return CommandLine.Done;
        }
        try
        {
            var given = Options.Read(args, [.. OfficeDoor.Known, "--from"], 2);
            Func<IServiceProvider, string, Task<int>> run = given.Words switch
            {
                ["show"] => (services, _) => Task.FromResult(Show(services, output)),
                ["rotate"] => (services, by) => RotateAsync(services, by, output, cancel),
                ["revoke", var key] => (services, by) =>
                    RevokeAsync(services, key, Size(given.Needed("--from")), by, output, cancel),
                _ => throw new UsageProblem("log-key needs show, rotate or revoke KEY"),
            };
            return await OfficeDoor.EnterAsync(given, error, true, run, cancel);
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, Help);
        }
    }

    private static int Show(IServiceProvider services, TextWriter output)
    {
        output.Write(services.GetRequiredService<LogKeeper>().TrustText);
        return CommandLine.Done;
    }

    private static async Task<int> RotateAsync(
        IServiceProvider services,
        string by,
        TextWriter output,
        CancellationToken cancel
    )
    {
        var change = await services.GetRequiredService<LogKeys>().RotateAsync(by, cancel);
        output.WriteLine($"new key      {change.Key}");
        output.WriteLine($"before       {change.Before}");
        output.WriteLine(
            string.Create(CultureInfo.InvariantCulture, $"in the log   entry {change.Leaf.Index}, signed by both keys:")
        );
        output.WriteLine();
        output.Write(change.Leaf.CheckpointNote);
        output.WriteLine();
        output.WriteLine("publish the new key where the old one stands; keep both lines: old packets need the old one");
        return CommandLine.Done;
    }

    private static async Task<int> RevokeAsync(
        IServiceProvider services,
        string key,
        long size,
        string by,
        TextWriter output,
        CancellationToken cancel
    )
    {
        var change = await services.GetRequiredService<LogKeys>().RevokeAsync(key, size, by, cancel);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"in the log   entry {change.Leaf.Index}"));
        output.WriteLine(
            "publish this line in place of the key's own; who checks with it is told what no longer counts:"
        );
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{key} until {size}"));
        return CommandLine.Done;
    }

    private static long Size(string text) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var size)
            ? size
            : throw new UsageProblem($"--from is a number of entries; '{text}' given");
}
