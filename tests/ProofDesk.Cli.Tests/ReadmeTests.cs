using System.Text.RegularExpressions;
using ProofDesk.Cli;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>What the README shows as output is what the program prints.</summary>
public sealed partial class ReadmeTests
{
    private static readonly string Readme = File.ReadAllText(Path.Combine(Root, "README.md"))
        .Replace("\r\n", "\n", StringComparison.Ordinal);

    [Fact]
    public async Task The_make_example_prints_what_the_README_shows()
    {
        var folder = Directory.CreateTempSubdirectory("readme-");
        try
        {
            var (arguments, shown) = Example("make");
            var art = Path.Combine(Root, arguments[1]);
            var output = Path.Combine(folder.FullName, arguments[^1]);

            var (code, printed, findings) = await RunAsync(["make", art, .. arguments[2..^1], output]);

            Assert.Equal(0, code);
            Assert.Equal(shown, printed);
            Assert.Contains(Findings(), findings, StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(true);
        }
    }

    [Fact]
    public async Task The_verify_example_prints_what_the_README_shows()
    {
        var (arguments, shown) = Example("verify");

        var (code, printed, _) = await RunAsync(["verify", Path.Combine(Root, arguments[1]), "--trust", "none"]);

        Assert.Equal(2, code);
        Assert.Equal(shown, printed);
    }

    /// <summary>Arguments of the example with this verb and the lines below it, up to the end of its block.</summary>
    private static (string[] Arguments, string Output) Example(string verb)
    {
        var example = Block()
            .Matches(Readme)
            .Select(m => m.Groups[1].Value.Replace("\\\n", " ", StringComparison.Ordinal))
            .Single(b =>
                b.StartsWith($"$ dotnet run --project src/ProofDesk.Cli -- {verb} ", StringComparison.Ordinal)
            );
        var end = example.IndexOf('\n', StringComparison.Ordinal);
        var words = example[..end].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return (words[(Array.IndexOf(words, "--") + 1)..], example[(end + 1)..]);
    }

    private static string Findings() =>
        Block()
            .Matches(Readme)
            .Select(m => m.Groups[1].Value)
            .Single(b => b.Contains("  hint: ", StringComparison.Ordinal));

    [GeneratedRegex("```\n(.*?)```", RegexOptions.Singleline, 1000)]
    private static partial Regex Block();
}
