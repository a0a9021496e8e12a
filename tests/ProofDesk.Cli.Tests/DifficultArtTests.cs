using System.Text.RegularExpressions;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>docs/difficult-art.md shows what the program says of art that cannot be separated well, word for word.</summary>
public sealed partial class DifficultArtTests : IDisposable
{
    private static readonly string Page = File.ReadAllText(Path.Combine(Root, "docs", "difficult-art.md"))
        .Replace("\r\n", "\n", StringComparison.Ordinal);

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-difficult-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    public static TheoryData<string> Commands() => [.. Blocks().Keys];

    [Fact]
    public void The_page_shows_neon_hairlines_few_pixels_and_a_white_box()
    {
        var arts = Blocks().Keys.Select(c => c.Split(' ')[2]).Distinct();

        Assert.Equal(["neon.png", "hairlines.svg", "photo-72dpi.jpg", "logo.jpg"], arts);
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task The_findings_are_those_the_page_shows(string command)
    {
        DifficultArt.Make(_folder);
        var words = command.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(("proofdesk", "make"), (words[0], words[1]));

        var (code, _, findings) = await RunAsync([
            "make",
            Path.Combine(_folder, words[2]),
            "--garment-px",
            "0.5",
            "--film-dpi",
            // Enough for 55 lpi where there are dots.
            words.Contains("simulated-process")
                ? "960"
                : "480",
            .. words[3..^1],
            Path.Combine(_folder, words[^1]),
        ]);

        Assert.Equal(0, code);
        // To be looked at, and taken over, where the page is no longer right.
        if (findings != Blocks()[command])
            await File.WriteAllTextAsync(
                Path.Combine(AppContext.BaseDirectory, $"{words[2]}-{words.Length}.findings.txt"),
                findings
            );
        Assert.Equal(Blocks()[command], findings);
    }

    /// <summary>Command, and what stands below it in its block.</summary>
    private static Dictionary<string, string> Blocks() =>
        Block()
            .Matches(Page)
            .Select(m => m.Groups[1].Value.Replace("\\\n", " ", StringComparison.Ordinal))
            .ToDictionary(
                b => Spaces().Replace(b[..b.IndexOf('\n', StringComparison.Ordinal)], " "),
                b => b[(b.IndexOf('\n', StringComparison.Ordinal) + 1)..]
            );

    [GeneratedRegex("```\n\\$ (.*?)```", RegexOptions.Singleline, 1000)]
    private static partial Regex Block();

    [GeneratedRegex(" +", RegexOptions.None, 1000)]
    private static partial Regex Spaces();
}
