using System.Text.Json;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>The shop's own inks on the command line: the file of docs/ink-files.md, and what is said when one is broken.</summary>
public sealed class InkFileTests : IDisposable
{
    private const string Art = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" width="60" height="40">
          <path d="M0 0 H60 V40 H0 Z" fill="#c8202c"/>
          <circle cx="30" cy="20" r="12" fill="#ffffff"/>
        </svg>
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-inks-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public async Task The_documented_file_shows_what_it_gives()
    {
        var (code, output, error) = await RunAsync("inks", "--file", Example("harbour-inks.json"));

        Assert.Equal((0, ""), (code, error));
        Assert.Equal(Documented(), output.Replace(Root + "/", "", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_shops_inks_print_and_the_list_says_how_near_they_come_to_their_targets()
    {
        var art = Write("art.svg", Art);

        var (code, _, error) = await RunAsync(
            "make",
            art,
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            "black,white",
            "--method",
            "plastisol",
            "--width-mm",
            "60",
            "--film-dpi",
            "720",
            "--inks",
            Example("harbour-inks.json"),
            "--out",
            Path.Combine(_folder, "out")
        );

        Assert.True(code == 0, error);
        Assert.Contains("harbour-red: the film hides the card at ", error, StringComparison.Ordinal);
        using var list = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(_folder, "out", "ink-list.json")));
        foreach (var ground in list.RootElement.GetProperty("grounds").EnumerateArray())
        {
            var row = ground
                .GetProperty("rows")
                .EnumerateArray()
                .Single(r => r.GetProperty("ink").GetString() == "Harbour red");
            Assert.Equal(1.5, row.GetProperty("target").GetProperty("toleranceDeltaE00").GetDouble());
            Assert.Equal("Red paste", row.GetProperty("mix")[0].GetProperty("name").GetString());
            Assert.Equal(
                row.GetProperty("gramsToMix").GetDouble(),
                row.GetProperty("mix").EnumerateArray().Sum(part => part.GetProperty("grams").GetDouble()),
                0.2
            );
        }
    }

    [Fact]
    public async Task A_broken_measurement_names_its_own_file_line_and_field()
    {
        var broken = (await File.ReadAllTextAsync(Example("harbour-red.txt"))).Replace(
            "FILM_THICKNESS_UM \"14\"",
            "FILM_THICKNESS_UM \"0\"",
            StringComparison.Ordinal
        );
        Write("red.txt", broken);
        var file = Write("inks.json", "[{ \"id\": \"red\", \"measurement\": \"red.txt\" }]");
        var line =
            1 + broken[..broken.IndexOf("FILM_THICKNESS_UM \"0\"", StringComparison.Ordinal)].Count(c => c == '\n');
        var message =
            $"red.txt({line}): FILM_THICKNESS_UM: 0 um; above 0 and at most 1000 is possible; write the dry film in um, or unknown\n";

        var shown = await RunAsync("inks", "--file", file);
        var made = await RunAsync(
            "make",
            Write("art.svg", Art),
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            "white",
            "--method",
            "plastisol",
            "--width-mm",
            "60",
            "--inks",
            file,
            "--out",
            Path.Combine(_folder, "out")
        );

        Assert.Equal((1, "", message), shown);
        Assert.Equal(2, made.Code);
        Assert.StartsWith(message + "hint: docs/ink-files.md shows a whole file", made.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_not_an_ink_file_names_line_and_field()
    {
        var file = Write("inks.json", "[\n  { \"id\": \"red\",\n    \"lab\": [40, 2] }\n]");

        var (code, output, error) = await RunAsync("inks", "--file", file);

        Assert.Equal((1, ""), (code, output));
        Assert.Equal(
            $"{file}(3): lab: a list of 2; three numbers are expected, such as [45, 68, 42]\n"
                + "hint: docs/ink-files.md shows a whole file; 'proofdesk inks --file FILE' reads one alone\n",
            error
        );
    }

    private string Write(string name, string text)
    {
        var path = Path.Combine(_folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    private static string Example(string name) => Path.Combine(Root, "docs", "examples", name);

    // The block of the page under its command is what the command prints.
    private static string Documented()
    {
        var page = File.ReadAllText(Path.Combine(Root, "docs", "ink-files.md"))
            .Replace("\r\n", "\n", StringComparison.Ordinal);
        const string Command = "$ proofdesk inks --file docs/examples/harbour-inks.json\n";
        var start = page.IndexOf(Command, StringComparison.Ordinal) + Command.Length;
        return page[start..page.IndexOf("```", start, StringComparison.Ordinal)];
    }
}
