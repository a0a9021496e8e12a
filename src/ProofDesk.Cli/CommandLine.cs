namespace ProofDesk.Cli;

/// <summary>The verbs. Problems go to the error stream, results to the output stream.</summary>
internal static class CommandLine
{
    public static Task<int> RunAsync(string[] args, TextWriter output, TextWriter error)
    {
        error.WriteLine("usage: proofdesk make | verify | methods | garments | inks");
        return Task.FromResult(2);
    }
}
