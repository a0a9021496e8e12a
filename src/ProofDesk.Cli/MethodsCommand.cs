using ProofDesk.Printing.Methods;

namespace ProofDesk.Cli;

/// <summary>`proofdesk methods`: how things can be printed, with the usual caution.</summary>
internal static class MethodsCommand
{
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        if (!CommandLine.TakesNothing("methods", args, error))
            return CommandLine.Usage;
        foreach (var method in PrintMethods.All)
        {
            output.WriteLine($"{method.Id}  {method.Name}: {method.Summary}");
            output.WriteLine($"  caution: {method.Caution}");
        }
        return CommandLine.Done;
    }
}
