using System.Globalization;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk make --method vinyl` and `plastisol-transfer` from art to folder, with names and numbers.</summary>
public sealed class VinylCommandTests : IDisposable
{
    private const string Mark = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" width="60" height="40">
          <path d="M0 0 H30 V40 H0 Z" fill="#d0202e"/>
          <circle cx="52" cy="20" r="8" fill="#f2c200"/>
        </svg>
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-vinyl-").FullName;

    public VinylCommandTests()
    {
        File.WriteAllText(In("mark.svg"), Mark);
        File.WriteAllText(In("team.csv"), "name,number,size\nLindqvist,7,L\nÅström,10,M\n");
    }

    public void Dispose() => Directory.Delete(_folder, true);

    private string In(string name) => Path.Combine(_folder, name);

    private async Task<(int Code, string Output, string Error)> Make(string method, params string[] more)
    {
        string[] args =
        [
            "make",
            In("mark.svg"),
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            "black",
            "--method",
            method,
            "--width-mm",
            "60",
            "--out",
            In("out"),
            "--film-dpi",
            "720",
            .. more,
        ];
        return await RunAsync(args);
    }

    [Fact]
    public async Task Vinyl_hands_over_cut_paths_names_and_numbers()
    {
        var (code, output, error) = await Make("vinyl", "--roster", In("team.csv"));

        Assert.True(code == 0, error);
        foreach (
            var name in (string[])
                [
                    "production/cut-paths/01-red.svg",
                    "production/weeding.csv",
                    "production/roster/white-01.svg",
                    "production/roster/list.csv",
                    "production/roster/characters.csv",
                ]
        )
        {
            Assert.Contains(name, output, StringComparison.Ordinal);
            Assert.True(File.Exists(In("out/" + name)), name);
        }
        foreach (var picture in (string[])["roster.png", "roster-first.png", "roster-garment.png"])
            Assert.True(new FileInfo(In("out/" + picture)).Length > 1000, picture);
        Assert.Contains("\"Roster\":{", await File.ReadAllTextAsync(In("out/recipe.json")), StringComparison.Ordinal);
        Assert.Contains(
            "2,LINDQVIST,7,L,,50.0,",
            await File.ReadAllTextAsync(In("out/production/roster/list.csv")),
            StringComparison.Ordinal
        );
    }

    [SkippableFact]
    public async Task Films_of_a_transfer_are_mirrored_and_its_roster_too()
    {
        var (code, _, error) = await Make("plastisol-transfer", "--roster", In("team.csv"));

        Assert.True(code == 0, error);
        string[] films =
        [
            .. Directory.GetFiles(In("out/plates")).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal),
        ];
        Assert.EndsWith("white-backing.tif", films[^1], StringComparison.Ordinal);
        // The red is on the left of the print and on the right of its film.
        var red = In("out/plates/" + films.Single(f => f.EndsWith("-red.tif", StringComparison.Ordinal)));
        var (left, right) = (Dark(red, 0), Dark(red, 1));
        Assert.True(right > left + 0.05, $"left {left:0.000}, right {right:0.000}");
        Assert.True(File.Exists(In("out/production/roster/white-01-01-white.png")));
        Assert.True(File.Exists(In("out/production/roster/white-01-02-white-backing.png")));
    }

    [Fact]
    public async Task Mistakes_of_a_list_stop_the_job_with_file_line_and_field()
    {
        await File.WriteAllTextAsync(In("team.csv"), "name,number\nAnna,1x\n,\n");

        var (code, _, error) = await Make("vinyl", "--roster", In("team.csv"));

        Assert.Equal(1, code);
        Assert.Equal(
            """
            refusal: team.csv, line 2, number: "1x" is not a number of one to 3 digits
              hint: write digits only
            refusal: team.csv, line 3, name: neither a name nor a number
              hint: fill one in, or take the line out

            """.ReplaceLineEndings("\n"),
            error
        );
        Assert.True(File.Exists(In("out/findings.json")));
    }

    [Fact]
    public async Task A_roster_of_another_method_is_refused()
    {
        var (code, _, error) = await Make("plastisol", "--roster", In("team.csv"));

        Assert.Equal(1, code);
        Assert.Contains(
            "refusal: names and numbers are not made with plastisol: every piece would be a set of its own\n  hint: choose vinyl or plastisol-transfer\n",
            error,
            StringComparison.Ordinal
        );
    }

    /// <summary>Share of ink in one half of a film's middle, by another program.</summary>
    private double Dark(string film, int half)
    {
        int Size(string field) =>
            int.Parse(Programs.Run("vipsheader", "-f", field, film).Trim(), CultureInfo.InvariantCulture);
        var (width, height) = (Size("width"), Size("height"));
        var crop = In($"half-{half}.v");
        Programs.Run(
            "vips",
            "crop",
            film,
            crop,
            $"{half * width / 2}",
            $"{height / 3}",
            $"{width / 2}",
            $"{height / 3}"
        );
        return 1 - double.Parse(Programs.Run("vips", "avg", crop).Trim(), CultureInfo.InvariantCulture) / 255;
    }
}
