using System.Text.Json;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk make art.pdf`: the whole way from a page of spot colours to plates named by them.</summary>
public sealed class PdfCommandTests : IDisposable
{
    private const string TwoSpots =
        "(Harbour Blue) 1 .5 0 0 SPOT 50 100 80 200 rectfill (Signal Red) 0 1 .9 0 SPOT 200 150 50 DISC 150 300 100 20 rectfill";

    private readonly PdfFiles _files = new();

    public void Dispose() => _files.Dispose();

    private Task<(int Code, string Output, string Error)> Make(string art, string folder, params string[] more) =>
        RunAsync([
            "make",
            art,
            "--garment",
            "tee",
            "--colour",
            "white",
            "--method",
            "plastisol",
            "--width-mm",
            "100",
            "--out",
            _files.Path(folder),
            "--film-dpi",
            "400",
            "--garment-px",
            "0.5",
            .. more,
        ]);

    private (string Name, double Coverage)[] Plates(string folder) =>
        [
            .. JsonDocument
                .Parse(File.ReadAllText(Path.Combine(_files.Path(folder), "ink-list.json")))
                .RootElement.GetProperty("plates")
                .EnumerateArray()
                .Select(s => (s.GetProperty("plate").GetString()!, s.GetProperty("coveragePercent").GetDouble())),
        ];

    [SkippableFact]
    public async Task Plates_bear_the_names_of_the_spot_colours_and_cover_what_tiffsep_says()
    {
        var art = _files.Distilled(TwoSpots);

        var (code, _, error) = await Make(art, "two");

        Assert.Equal(0, code);
        Assert.Contains("note: 2 spot colours are kept as plates: ", error, StringComparison.Ordinal);
        var plates = Plates("two");
        Assert.Equal(["Harbour Blue", "Signal Red"], plates.Select(p => p.Name).Order());
        // What is drawn is 200 x 220 of the page's points and prints 100 mm wide: 400 dpi there are 567 on the page.
        var scale = 100 / (200 * 25.4 / 72);
        var drawn = Tiffsep.AreasMm2(art, 400 * scale);
        var plated = Tiffsep.AreasMm2(Path.Combine(_files.Path("two"), "plates.pdf"), 400, "-dUseTrimBox");
        var image = 100 * 110.0;
        foreach (var (name, coverage) in plates)
        {
            Assert.Equal(100 * drawn[name] * scale * scale / image, coverage, 0.5);
            Assert.Equal(100 * plated[name] / image, coverage, 0.5);
        }
        // By hand: the bar is 80 x 200 points; the disc has a radius of 50, the bar above it is 100 x 20.
        Assert.Equal(100 * 80.0 * 200 / (200 * 220), plates.Single(p => p.Name == "Harbour Blue").Coverage, 0.5);
        Assert.Equal(
            100 * (Math.PI * 50 * 50 + 100 * 20) / (200 * 220),
            plates.Single(p => p.Name == "Signal Red").Coverage,
            0.5
        );
    }

    [SkippableFact]
    public async Task Our_own_plates_pdf_is_read_again_by_the_names_of_its_plates()
    {
        await Make(_files.Distilled(TwoSpots), "first");

        var (code, _, error) = await Make(Path.Combine(_files.Path("first"), "plates.pdf"), "second");

        Assert.True(code == 0, error);
        Assert.Equal(Plates("first").Select(p => p.Name).Order(), Plates("second").Select(p => p.Name).Order());
        foreach (
            var ((_, one), (_, other)) in Plates("first")
                .OrderBy(p => p.Name)
                .Zip(Plates("second").OrderBy(p => p.Name))
        )
            Assert.Equal(one, other, 0.5);
    }

    [SkippableFact]
    public async Task The_page_is_chosen_and_changes_the_recipe()
    {
        var two = _files.Distilled(TwoSpots + " showpage " + TwoSpots);
        var recipes = new List<string>();
        foreach (var page in new[] { "1", "2" })
        {
            var (code, _, error) = await Make(two, "page" + page, "--page", page);
            Assert.Equal(0, code);
            Assert.Contains($"warning: the pdf has 2 pages; page {page} is used\n", error, StringComparison.Ordinal);
            recipes.Add(await File.ReadAllTextAsync(Path.Combine(_files.Path("page" + page), "recipe.json")));
        }

        Assert.NotEqual(recipes[0], recipes[1]);
        Assert.Contains("\"DrawnBy\"", recipes[0], StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task A_page_that_is_not_there_exits_with_1()
    {
        var (code, output, error) = await Make(_files.Distilled(TwoSpots), "x", "--page", "7");

        Assert.Equal((1, ""), (code, output));
        Assert.Equal("page 7 was asked for; the pdf has 1 page\nhint: ask for a page from 1 to 1\n", error);
    }

    [SkippableFact]
    public async Task The_words_of_the_page_stand_in_the_findings()
    {
        var art = _files.Distilled(
            TwoSpots + " /Helvetica findfont 30 scalefont setfont 60 350 moveto (Harbour Rowing) show"
        );

        var (_, _, error) = await Make(art, "words");

        Assert.Contains(
            "note: 1 line of text was found in the file: \"Harbour Rowing\"\n",
            error,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "\"text-found\"",
            await File.ReadAllTextAsync(Path.Combine(_files.Path("words"), "findings.json")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_page_number_that_is_none_exits_with_2()
    {
        var (code, _, error) = await Make("art.pdf", "y", "--page", "first");

        Assert.Equal(2, code);
        Assert.StartsWith("--page is a whole number from 1; 'first' given\n", error, StringComparison.Ordinal);
    }
}
