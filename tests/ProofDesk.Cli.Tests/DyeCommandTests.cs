using System.Globalization;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>Dye prints from the terminal: refusals as the trade would give them, files read back by an independent program.</summary>
public sealed class DyeCommandTests : IDisposable
{
    private const string Half = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40" width="40" height="40">
          <rect width="40" height="40" fill="#f4c430"/>
          <rect width="10" height="40" fill="#000000"/>
        </svg>
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-dye-").FullName;
    private readonly string _art;

    public DyeCommandTests()
    {
        _art = Path.Combine(_folder, "half.svg");
        File.WriteAllText(_art, Half);
    }

    public void Dispose() => Directory.Delete(_folder, true);

    private async Task<(int Code, string Output, string Error)> Make(
        string method,
        string colours,
        params string[] more
    )
    {
        string[] args =
        [
            "make",
            _art,
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            colours,
            "--method",
            method,
            "--width-mm",
            "40",
            "--background",
            "print",
            "--out",
            _folder,
            .. more,
        ];
        return await RunAsync(args);
    }

    [Fact]
    public async Task Black_cotton_and_black_polyester_are_refused_each_for_its_own_reason()
    {
        var (code, output, error) = await Make("sublimation", "black,poly-black");

        Assert.Equal((1, ""), (code, output));
        Assert.StartsWith(
            "refusal: Black is 0 % polyester and sublimation dyes no other fibre; 35 % is the least, 65 % looks good\n"
                + "  hint: choose another method or another garment\n"
                + "refusal: Black polyester has L* 16 and sublimation has no white, so the cloth shows through every colour; L* 70 is the least\n"
                + "  hint: choose a white or pastel garment or another method\n",
            error,
            StringComparison.Ordinal
        );
        Assert.True(File.Exists(Path.Combine(_folder, "findings.json")));
    }

    [SkippableFact]
    public async Task The_print_file_is_mirrored_as_another_program_reads_it()
    {
        var (code, _, _) = await Make("sublimation", "poly-white");

        Assert.Equal(0, code);
        // The black bar is at the left of the art, so at the right of what goes to the printer. 0 = full ink.
        var file = Path.Combine(_folder, "production", "print-file-black.png");
        Assert.True(Mean(file, 0.05) > 250);
        Assert.True(Mean(file, 0.85) < 20);
        Assert.StartsWith(
            "print file for dye sublimation\n",
            await File.ReadAllTextAsync(Path.Combine(_folder, "production", "print-file.txt")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_belt_print_can_lie_under_a_print_and_its_art_must_exist()
    {
        var (missing, _, error) = await Make("plastisol", "white", "--under", Path.Combine(_folder, "none.svg"));
        var (code, output, _) = await Make(
            "plastisol",
            "white",
            "--film-dpi",
            "480",
            "--under",
            _art,
            "--under-width-mm",
            "200"
        );

        Assert.Equal(2, missing);
        Assert.StartsWith($"there is no file '{Path.Combine(_folder, "none.svg")}'", error, StringComparison.Ordinal);
        Assert.Equal(0, code);
        // The picture is the whole side; the films are those of the print on top.
        Assert.Matches(@"print\.png  4\d\d\d x \d\d\d\d px", output);
    }

    /// <summary>Mean of a column of 5 % of the width, 0..255.</summary>
    private static double Mean(string file, double from)
    {
        var width = int.Parse(Programs.Run("vipsheader", "-f", "width", file), CultureInfo.InvariantCulture);
        var height = int.Parse(Programs.Run("vipsheader", "-f", "height", file), CultureInfo.InvariantCulture);
        var part = Path.ChangeExtension(file, $"{100 * from:0}.v");
        Programs.Run(
            "vips",
            "extract_area",
            file,
            part,
            ((int)(from * width)).ToString(CultureInfo.InvariantCulture),
            "0",
            Math.Max(1, width / 20).ToString(CultureInfo.InvariantCulture),
            height.ToString(CultureInfo.InvariantCulture)
        );
        return double.Parse(Programs.Run("vips", "avg", part), CultureInfo.InvariantCulture);
    }
}
