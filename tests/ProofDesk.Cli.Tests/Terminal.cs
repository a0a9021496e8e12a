namespace ProofDesk.Cli.Tests;

/// <summary>The command line as a terminal sees it, and the folder it was built from.</summary>
internal static class Terminal
{
    /// <summary>The folder that holds ProofDesk.sln.</summary>
    public static string Root { get; } = FindRoot();

    public static async Task<(int Code, string Output, string Error)> RunAsync(params string[] arguments)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = await CommandLine.RunAsync(arguments, output, error, CancellationToken.None);
        return (code, output.ToString(), error.ToString());
    }

    private static string FindRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder)!;
        return folder;
    }
}
