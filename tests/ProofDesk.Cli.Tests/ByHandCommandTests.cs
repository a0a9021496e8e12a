using System.Text.Json;
using System.Text.RegularExpressions;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>Films changed by hand from the command line: the example of docs/light-table.md, and files that are wrong.</summary>
public sealed partial class ByHandCommandTests : IDisposable
{
    private static readonly string Page = File.ReadAllText(Path.Combine(Root, "docs", "light-table.md"))
        .Replace("\r\n", "\n", StringComparison.Ordinal);

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-by-hand-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private string At(string name) => Path.Combine(_folder, name);

    private Task<(int Code, string Output, string Error)> Make(string folder, params string[] more) =>
        RunAsync([
            "make",
            Path.Combine(Root, "docs", "examples", "pennant.svg"),
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            "black",
            "--method",
            "plastisol",
            "--width-mm",
            "60",
            "--film-dpi",
            "720",
            "--out",
            At(folder),
            .. more,
        ]);

    private Dictionary<string, (double Coverage, string? ByHand)> Rows(string folder)
    {
        using var list = JsonDocument.Parse(File.ReadAllText(Path.Combine(At(folder), "ink-list.json")));
        return list
            .RootElement.GetProperty("grounds")[0]
            .GetProperty("rows")
            .EnumerateArray()
            .ToDictionary(
                row => row.GetProperty("plate").GetString()!,
                row =>
                    (
                        row.GetProperty("coveragePercent").GetDouble(),
                        row.TryGetProperty("byHand", out var words) ? words.GetString() : null
                    )
            );
    }

    [Fact]
    public async Task The_page_shows_the_file_to_begin_with_and_what_changes_say()
    {
        var shown = Blocks().Matches(Page).Select(m => m.Groups["text"].Value).ToArray();

        var (code, output, error) = await Make("made", "--write-by-hand", At("by-hand.json"));

        Assert.True(code == 0, error);
        Assert.Contains(At("by-hand.json") + "\n", output, StringComparison.Ordinal);
        Assert.Equal(shown[1], File.ReadAllText(At("by-hand.json")));
        // The blank file changes nothing, to the last byte of the recipe.
        var same = await Make("same", "--by-hand", At("by-hand.json"));
        Assert.Equal(0, same.Code);
        Assert.Equal(
            File.ReadAllText(Path.Combine(At("made"), "recipe.json")),
            File.ReadAllText(Path.Combine(At("same"), "recipe.json"))
        );

        File.WriteAllText(At("changed.json"), shown[2]);
        var changed = await Make("changed", "--by-hand", At("changed.json"));

        Assert.True(changed.Code == 0, changed.Error);
        Assert.Equal(shown[3], string.Concat(Said().Matches(changed.Error).Select(m => m.Value)));
        var (before, after) = (Rows("made"), Rows("changed"));
        Assert.All(before.Values, row => Assert.Null(row.ByHand));
        Assert.StartsWith("choke 100 um", after["Base"].ByHand, StringComparison.Ordinal);
        Assert.True(after["Base"].Coverage < before["Base"].Coverage);
        Assert.Equal(before["Red"], after["Red"]);
    }

    [Fact]
    public async Task Everything_wrong_in_the_file_is_said_before_anything_is_made()
    {
        File.WriteAllText(
            At("wrong.json"),
            """
            { "plates": [
              { "plate": "Red", "wedgePercent": [0, 50, 100], "spreadUm": 900 },
              { "plate": "Blue", "dots": "round" }
            ] }
            """
        );

        var (code, output, error) = await Make("wrong", "--by-hand", At("wrong.json"));

        Assert.Equal(2, code);
        Assert.Equal("", output);
        Assert.Equal(
            """
            wrong.json, line 2, plate 'Red': the wedge has 3 steps, 11 are needed (0, 10, ... 100 %)
            wrong.json, line 2, plate 'Red': a spread of 900 um, -500 (choke) to 500 um are possible
            wrong.json, line 3, plate 'Blue': there is no field 'dots'; there are plate, wedgePercent, spreadUm, angleDegrees, linesPerInch, dot, mesh, weakTones, strokes, flashAfter, keepOut
            hint: docs/light-table.md says what each number does

            """.ReplaceLineEndings("\n"),
            error
        );
        Assert.False(Directory.Exists(At("wrong")));
    }

    [Fact]
    public async Task A_file_that_is_missing_or_in_the_way_is_said()
    {
        File.WriteAllText(At("kept.json"), "{ \"plates\": [] }");

        var missing = await Make("x", "--by-hand", At("none.json"));
        var inTheWay = await Make("x", "--write-by-hand", At("kept.json"));

        Assert.Equal(2, missing.Code);
        Assert.Equal(
            $"there is no file '{At("none.json")}'\nhint: --write-by-hand FILE writes one to begin with\n",
            missing.Error
        );
        Assert.Equal(2, inTheWay.Code);
        Assert.Equal(
            $"'{At("kept.json")}' is there already, --write-by-hand writes over nothing\nhint: name another file, or move that one away\n",
            inTheWay.Error
        );
    }

    [GeneratedRegex("```[a-z]*\n(?<text>.*?)```", RegexOptions.Singleline)]
    private static partial Regex Blocks();

    /// <summary>What is said about hand work, with the hint below it.</summary>
    [GeneratedRegex(
        "^(note|warning): .*(by hand|choke|rectangle|pattern|dots under).*\n  hint: .*\n",
        RegexOptions.Multiline
    )]
    private static partial Regex Said();
}
