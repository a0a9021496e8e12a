using System.Text.Json;
using ProofDesk.Printing.Methods;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>Every method of the list on black, white, red and a half-polyester heather: it prints, or the trade's reason comes.</summary>
public sealed class EveryMethodTests : IDisposable
{
    private static readonly string[] Cloths = ["black", "white", "red", "heather-50-50"];

    private const string NoPolyester =
        "0 % polyester and sublimation dyes no other fibre; 35 % is the least, 65 % looks good";

    /// <summary>Which cloth a method refuses, and why.</summary>
    private static readonly Dictionary<(string Method, string Cloth), string> Refused = new()
    {
        [("sublimation", "black")] = "Black is " + NoPolyester,
        [("sublimation", "white")] = "White is " + NoPolyester,
        [("sublimation", "red")] = "Red is " + NoPolyester,
        [("cut-and-sew", "black")] = "Black is " + NoPolyester,
        [("cut-and-sew", "white")] = "White is " + NoPolyester,
        [("cut-and-sew", "red")] = "Red is " + NoPolyester,
    };

    private const string Roundel = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40" width="40" height="40">
          <circle cx="20" cy="20" r="20" fill="#1d3f8f"/>
          <circle cx="20" cy="20" r="12" fill="#ffffff"/>
          <path d="M20 9 L31 28 L9 28 Z" fill="#d0202e"/>
        </svg>
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-every-").FullName;
    private readonly string _art;

    public EveryMethodTests()
    {
        _art = Path.Combine(_folder, "roundel.svg");
        File.WriteAllText(_art, Roundel);
    }

    public void Dispose() => Directory.Delete(_folder, true);

    public static TheoryData<string> Methods => [.. PrintMethods.All.Select(m => m.Id)];

    [Theory]
    [MemberData(nameof(Methods))]
    public async Task A_method_prints_on_each_cloth_or_says_why_not(string method)
    {
        var prints = Cloths.Where(c => !Refused.ContainsKey((method, c))).ToArray();
        // The darkest cloth and the one that every method knows, unless time is given; all over a garment, one.
        var whole = PrintMethods.All.Single(m => m.Id == method).AllOver is { Always: true };
        if (Environment.GetEnvironmentVariable("PROOFDESK_LONG") != "1" && prints.Length > 1)
            prints = whole ? ["black"] : ["black", "heather-50-50"];
        var (code, _, error) = await Make(method, string.Join(',', prints), "prints", whole ? "300" : "480");

        Assert.True(code == 0, $"exit {code}: {error}");
        foreach (var cloth in prints)
        {
            var suffix = prints.Length > 1 ? "-" + cloth : "";
            Assert.True(File.Exists(Path.Combine(_folder, "prints", $"print{suffix}.png")), cloth);
            Assert.True(File.Exists(Path.Combine(_folder, "prints", $"garment{suffix}.png")), cloth);
        }
        Assert.NotEmpty(Directory.GetFiles(Path.Combine(_folder, "prints", "plates"), "*.tif"));

        foreach (var cloth in Cloths.Where(c => Refused.ContainsKey((method, c))))
        {
            var (refusal, _, said) = await Make(method, cloth, "refused", "480");
            Assert.Equal(1, refusal);
            Assert.Contains("refusal: " + Refused[(method, cloth)] + "\n  hint: ", said, StringComparison.Ordinal);
            var findings = JsonDocument.Parse(
                await File.ReadAllTextAsync(Path.Combine(_folder, "refused", "findings.json"))
            );
            Assert.Contains("refusal", findings.RootElement.GetRawText(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Every_method_has_its_page()
    {
        var pages = Path.Combine(Root, "docs", "methods");
        foreach (var method in PrintMethods.All)
        {
            var page = File.ReadAllText(Path.Combine(pages, method.Id + ".md"));
            // What a newcomer looks for first and a careful shop last.
            Assert.Contains("cannot know", page, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("caution", page, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("sources", page, StringComparison.OrdinalIgnoreCase);
        }
    }

    private async Task<(int Code, string Output, string Error)> Make(
        string method,
        string cloths,
        string folder,
        string dpi
    )
    {
        string[] args =
        [
            "make",
            _art,
            "--garment",
            "tee",
            "--colour",
            cloths,
            "--method",
            method,
            "--width-mm",
            "60",
            "--film-dpi",
            dpi,
            "--garment-px",
            "0.5",
            "--out",
            Path.Combine(_folder, folder),
        ];
        return await RunAsync(args);
    }
}
