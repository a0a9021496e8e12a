using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk make art.pdf`.</summary>
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
            "720",
            .. more,
        ]);

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
