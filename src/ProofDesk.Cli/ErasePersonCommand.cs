using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Cli;

/// <summary>`proofdesk erase-person ADDRESS`: what names a person goes, the log stays whole.</summary>
internal static class ErasePersonCommand
{
    private const string Help = $"""
        usage: proofdesk erase-person ADDRESS --why TEXT [options]
          ADDRESS                the mail address that was invited
          --why TEXT             the reason, for the log; do not name the person in it
        Empties names, addresses, comments and statements of that address's decisions, its invitations and its mails. The entries of the
        log stay and verify; the packets of these decisions can no longer be made. Packets, receipts and backups outside are not reached.
        {OfficeDoor.Help}
        exit code: 0 erased, 1 nothing of that address was found, 2 not understood, 3 refused
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
            var given = Options.Read(args, [.. OfficeDoor.Known, "--why"], 1);
            if (given.Words is not [var address])
            {
                throw new UsageProblem("erase-person needs the mail address");
            }
            if (!address.Contains('@', StringComparison.Ordinal))
            {
                throw new UsageProblem($"'{address}' is no mail address");
            }
            var why = given.Needed("--why");
            return await OfficeDoor.EnterAsync(
                given,
                error,
                true,
                (services, by) => EraseAsync(services, address, why, by, output, error, cancel),
                cancel
            );
        }
        catch (UsageProblem problem)
        {
            return CommandLine.Misunderstood(error, problem.Message, Help);
        }
    }

    private static async Task<int> EraseAsync(
        IServiceProvider services,
        string address,
        string why,
        string by,
        TextWriter output,
        TextWriter error,
        CancellationToken cancel
    )
    {
        var erased = await services.GetRequiredService<PersonErasure>().EraseAsync(address, by, why, cancel);
        foreach (var client in erased.Clients)
        {
            error.WriteLine($"the client '{client}' still has this address: change it in the desk");
        }
        if (erased.Nothing)
        {
            error.WriteLine($"no decision, invitation or mail of {address} was found");
            return CommandLine.Refused;
        }
        foreach (var entry in erased.Decisions)
        {
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"entry {entry} of the log: statement erased, its packet can no longer be made"
                )
            );
        }
        output.WriteLine(
            string.Create(CultureInfo.InvariantCulture, $"{erased.Links} invitations and {erased.Mails} mails emptied")
        );
        return CommandLine.Done;
    }
}
