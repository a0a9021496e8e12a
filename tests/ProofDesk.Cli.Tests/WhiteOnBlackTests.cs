using System.Globalization;

namespace ProofDesk.Cli.Tests;

/// <summary>
/// How light a big patch of white comes out on a black tee. The picture is measured by libvips, which knows nothing of ours;
/// the bounds are the trade's (common practice, not a publication).
/// </summary>
public sealed class WhiteOnBlackTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-white-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [SkippableFact]
    public Task One_pass_of_plastisol_white_reads_L_70_to_86() => Reads(70, 86, "plastisol");

    [SkippableFact]
    public Task Print_flash_print_reads_L_86_to_92() => Reads(86, 92, "plastisol", "--base-flash");

    [SkippableFact]
    public Task One_pass_of_high_solids_water_based_white_reads_L_64_to_86() => Reads(64, 86, "water-based");

    [SkippableFact]
    public async Task Thin_water_based_white_without_a_base_is_the_faded_look_of_L_30_to_45()
    {
        var inks = Path.Combine(_folder, "inks.csv");
        await File.WriteAllTextAsync(inks, "ink\nwb-white\n");
        await Reads(30, 45, "water-based", "--inks", inks, "--base", "none");
    }

    private async Task Reads(double least, double most, string method, params string[] more)
    {
        var art = Path.Combine(_folder, "patch.svg");
        await File.WriteAllTextAsync(
            art,
            """<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60"><rect width="80" height="60" fill="#fff"/></svg>"""
        );
        var print = Path.Combine(_folder, "out", "print.png");
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await CommandLine.RunAsync(
            [
                "make",
                art,
                "--garment-px",
                "0.5",
                "--garment",
                "tee",
                "--colour",
                "black",
                "--method",
                method,
                "--width-mm",
                "80",
                "--background",
                "print",
                "--out",
                Path.Combine(_folder, "out"),
                .. more,
            ],
            output,
            error,
            CancellationToken.None
        );
        Assert.True(code == 0, error.ToString());
        Assert.InRange(Lightness(print), least, most);
    }

    private string At(string name) => Path.Combine(_folder, name);

    /// <summary>Mean over the middle of the patch, in linear light, as an instrument with a large opening averages.</summary>
    private double Lightness(string print)
    {
        var width = int.Parse(Programs.Run("vipsheader", "-f", "width", print).Trim(), CultureInfo.InvariantCulture);
        var height = int.Parse(Programs.Run("vipsheader", "-f", "height", print).Trim(), CultureInfo.InvariantCulture);
        string[] middle = [.. new[] { width / 4, height / 4, width / 2, height / 2 }.Select(n => $"{n}")];
        Programs.Run("vips", ["crop", print, At("patch.v"), .. middle]);
        Programs.Run("vips", "colourspace", At("patch.v"), At("xyz.v"), "xyz");
        Programs.Run("vips", "extract_band", At("xyz.v"), At("y.v"), "1");
        var y = double.Parse(Programs.Run("vips", "avg", At("y.v")).Trim(), CultureInfo.InvariantCulture) / 100;
        // ISO 11664-4, Y of white = 1.
        return 116 * Math.Cbrt(y) - 16;
    }
}
