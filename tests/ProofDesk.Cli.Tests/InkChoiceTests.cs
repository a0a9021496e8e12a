using System.Text.Json;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>Inks that are fixed, left out and moved, the table of screens, and where a print cannot follow the art.</summary>
public sealed class InkChoiceTests : IDisposable
{
    // A glow: every pixel between yellow, red and a blue night has a colour of its own.
    private const string Art = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" width="60" height="40">
          <defs><radialGradient id="g"><stop offset="0" stop-color="#ffe45c"/><stop offset="0.5" stop-color="#d8342a"/><stop offset="1" stop-color="#23307a"/></radialGradient></defs>
          <ellipse cx="30" cy="20" rx="30" ry="20" fill="url(#g)"/>
        </svg>
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-choices-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public async Task The_table_of_screens_goes_to_the_output_as_text_or_json()
    {
        var (code, text, error) = await RunAsync(["screens", .. Job("black"), "--quantity", "50", "--most", "4"]);
        var (_, json, _) = await RunAsync(["screens", .. Job("black"), "--quantity", "50", "--json", "--most", "4"]);

        Assert.True(code == 0, error);
        Assert.StartsWith("on black\n", text, StringComparison.Ordinal);
        Assert.Contains(
            "\n> 4 colours are what the job takes as it is set; --inks N takes another row\n",
            text,
            StringComparison.Ordinal
        );
        using var table = JsonDocument.Parse(json);
        Assert.Equal(50, table.RootElement.GetProperty("quantity").GetInt32());
        Assert.Equal(4, table.RootElement.GetProperty("rows").GetArrayLength());
    }

    [Fact]
    public async Task With_both_rates_the_table_has_a_cost()
    {
        var (code, text, error) = await RunAsync([
            "screens",
            .. Job("black"),
            "--hour-rate",
            "40",
            "--ink-rate",
            "20",
            "--use-inks",
            "violet",
            "--avoid-inks",
            "red,navy",
            "--most",
            "3",
        ]);

        Assert.True(code == 0, error);
        Assert.Contains("  a print  inks\n", text, StringComparison.Ordinal);
        Assert.Contains("40 an hour and 20 a kilogram of ink\n", text, StringComparison.Ordinal);
        Assert.All(
            text.Split('\n').Where(l => l.Length > 9 && char.IsAsciiDigit(l[8])),
            l => Assert.Contains("violet", l, StringComparison.Ordinal)
        );
        Assert.DoesNotContain("navy", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fixed_inks_and_their_order_are_in_the_ink_list_and_the_reach_is_a_picture_a_ground()
    {
        var (code, output, error) = await RunAsync([
            "make",
            .. Job("black,white"),
            "--out",
            _folder,
            "--film-dpi",
            "600",
            "--inks",
            "3",
            "--use-inks",
            "violet,orange",
            "--ink-order",
            "violet,orange",
        ]);

        Assert.True(code == 0, error);
        Assert.Contains("reach-black.png  ", output, StringComparison.Ordinal);
        Assert.Contains("reach-white.png  ", output, StringComparison.Ordinal);
        Assert.True(new FileInfo(Path.Combine(_folder, "reach-white.png")).Length > 1000);
        using var list = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(_folder, "ink-list.json")));
        var plates = list
            .RootElement.GetProperty("plates")
            .EnumerateArray()
            .Select(p => p.GetProperty("plate").GetString())
            .ToList();
        Assert.True(plates.IndexOf("Violet") < plates.IndexOf("Orange"), string.Join(", ", plates));
        Assert.Equal(5, plates.Count);
        var second = list.RootElement.GetProperty("secondSet");
        Assert.Equal("tee/white", second.GetProperty("serves")[0].GetString());
        Assert.Equal(2, second.GetProperty("grounds").GetArrayLength());
        Assert.True(
            list.RootElement.GetProperty("grounds")[0].GetProperty("fit").GetProperty("meanDeltaE00").GetDouble() > 0
        );
    }

    [Fact]
    public async Task The_shop_s_own_ink_is_fixed_from_its_file()
    {
        var file = Path.Combine(_folder, "own.json");
        await File.WriteAllTextAsync(file, """[{ "id": "quay-pink", "name": "Quay pink", "lab": [52, 70, 5] }]""");
        var (code, text, error) = await RunAsync(["screens", .. Job("black"), "--use-inks", file, "--most", "1"]);

        Assert.True(code == 0, error);
        Assert.Contains("quay-pink\n", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        "--use-inks",
        "vioelt",
        "--use-inks names no ink 'vioelt'; did you mean 'violet'?\nhint: 'proofdesk inks' lists the library's; the shop's own stand in a file, see docs/ink-files.md\n"
    )]
    [InlineData(
        "--ink-order",
        "oragne",
        "--ink-order names no ink 'oragne'; did you mean 'orange'?\nhint: 'proofdesk inks' lists the library's; the shop's own stand in a file, see docs/ink-files.md\n"
    )]
    [InlineData(
        "--hour-rate",
        "much",
        "--hour-rate is a number from 0 to 100000; 'much' given\nhint: 'proofdesk screens --help' says how\n"
    )]
    [InlineData("--out", "here", "'screens' writes no files, --out given\nhint: the table goes to the output stream\n")]
    public async Task What_is_not_understood_is_said(string option, string value, string expected)
    {
        var (code, output, error) = await RunAsync(["screens", .. Job("black"), option, value]);

        Assert.Equal((2, "", expected), (code, output, error));
    }

    [Fact]
    public async Task Another_method_has_no_table()
    {
        string[] job = [.. Job("black").Select(w => w == "simulated-process" ? "plastisol" : w)];
        var (code, output, error) = await RunAsync(["screens", .. job]);

        Assert.Equal(
            (
                1,
                "",
                "refusal: the table of screens is for painted art in inks chosen by count; plastisol does not choose them so\n"
                    + "  hint: ask for it with simulated-process\n"
            ),
            (code, output, error)
        );
    }

    private string[] Job(string colours)
    {
        var art = Path.Combine(_folder, "art.svg");
        File.WriteAllText(art, Art);
        return
        [
            art,
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            colours,
            "--method",
            "simulated-process",
            "--width-mm",
            "60",
        ];
    }
}
