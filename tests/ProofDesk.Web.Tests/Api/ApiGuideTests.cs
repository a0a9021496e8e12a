using System.Diagnostics;
using System.Text.RegularExpressions;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Tests.Api;

/// <summary>docs/api.md: its examples run word for word in one shell against a server, and print what it says they print.</summary>
[Collection(OneApi.Name)]
public sealed partial class ApiGuideTests(ApiServer server)
{
    [SkippableFact]
    public async Task The_examples_of_the_guide_run_word_for_word()
    {
        var text = await File.ReadAllTextAsync(Path.Combine(Root(), "docs/api.md"));
        var blocks = Block().Matches(text).Select(m => (Kind: m.Groups[1].Value, Text: m.Groups[2].Value)).ToList();
        var script = string.Concat(blocks.Where(b => b.Kind == "sh").Select(b => b.Text));
        var expected = string.Concat(blocks.Where(b => b.Kind == "text").Select(b => b.Text)) + "valid\n";
        Assert.True(blocks.Count(b => b.Kind == "sh") >= 9, $"{blocks.Count} examples");

        var folder = Directory.CreateTempSubdirectory("proofdesk-guide-").FullName;
        try
        {
            Assert.Equal(expected, await RunAsync(folder, "set -e\n" + script));
            Assert.Equal("PNG", (await File.ReadAllTextAsync(Path.Combine(folder, "print.png")))[1..4]);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private async Task<string> RunAsync(string folder, string script)
    {
        Skip.If(!Exists("curl") || !Exists("python3"), "curl or python3 is not installed");
        var start = new ProcessStartInfo("bash", ["-c", script])
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        start.Environment["SERVER"] = server.Address.ToString().TrimEnd('/');
        start.Environment["KEY"] = server.Keys[KeyScope.Orders];
        using var shell = Process.Start(start)!;
        var error = shell.StandardError.ReadToEndAsync();
        var output = await shell.StandardOutput.ReadToEndAsync();
        await shell.WaitForExitAsync();
        Assert.True(shell.ExitCode == 0, $"{output}\n{await error}");
        return output;
    }

    private static bool Exists(string program) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':').Any(p => File.Exists(Path.Combine(p, program)));

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder)!;
        return folder;
    }

    [GeneratedRegex("^```(sh|text)\n(.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Block();
}
