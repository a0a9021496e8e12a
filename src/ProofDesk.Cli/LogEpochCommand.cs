using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Cli;

/// <summary>`proofdesk log-epoch open`: the log goes on after an old database was put back.</summary>
internal static class LogEpochCommand
{
    private const string Help = $"""
        usage: proofdesk log-epoch open [options]
        When a database was put back from an old backup, the server refuses: its log is shorter than what was signed. Look for a newer
        backup first. If there is none, this lets the log go on under a new name and says in it which entries were lost.
        {OfficeDoor.Help}
        exit code: 0 opened, 2 not understood, 3 refused
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
            var given = Options.Read(args, OfficeDoor.Known, 1);
            return given.Words is ["open"]
                ? await OfficeDoor.EnterAsync(
                    given,
                    error,
                    false,
                    (services, by) => OpenAsync(services, by, output, cancel),
                    cancel
                )
                : throw new UsageProblem("log-epoch needs open");
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, Help);
        }
    }

    private static async Task<int> OpenAsync(
        IServiceProvider services,
        string by,
        TextWriter output,
        CancellationToken cancel
    )
    {
        var opened = await services.GetRequiredService<LogEpochs>().OpenAsync(by, cancel);
        output.WriteLine($"the log goes on as {opened.Origin}");
        output.WriteLine($"its key is {opened.VerifierKey}");
        output.WriteLine(opened.Lost);
        output.WriteLine(
            "publish the new key beside the old one: packets and receipts of the old name need the old one"
        );
        return CommandLine.Done;
    }
}
