using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using UglyToad.PdfPig;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk make` with the shop's device and frame: films that other programs read, measure and decode.</summary>
public sealed class FilmCommandTests : IDisposable
{
    private const string Badge = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" width="60" height="40">
          <defs><linearGradient id="g"><stop offset="0" stop-color="#d0202e"/><stop offset="1" stop-color="#d0202e" stop-opacity="0.2"/></linearGradient></defs>
          <path d="M0 0 H60 V20 H0 Z" fill="url(#g)"/>
          <path d="M0 24 H60 V40 H0 Z" fill="#1d3f8f"/>
        </svg>
        """;

    private const string Device = """
        { "name": "back room recorder", "xDpi": 1440, "yDpi": 720, "mirror": true, "largestWidthMm": 330,
          "xStretchPercent": 0.2, "yStretchPercent": -0.1, "leastDotUm": 35,
          "frame": { "name": "automatic", "imageFromPalletEdgeMm": 80, "innerWidthMm": 480, "innerHeightMm": 700 } }
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-films-").FullName;
    private readonly string _art;

    public FilmCommandTests()
    {
        _art = Path.Combine(_folder, "badge.svg");
        File.WriteAllText(_art, Badge);
        File.WriteAllText(Out("device.json"), Device);
    }

    public void Dispose() => Directory.Delete(_folder, true);

    private string Out(string name) => Path.Combine(_folder, name);

    private Task<(int Code, string Output, string Error)> Make(string folder, params string[] more) =>
        RunAsync([
            "make",
            _art,
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
            "--out",
            Out(folder),
            "--order",
            "2041",
            .. more,
        ]);

    private JsonElement InkList(string folder) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(Out(folder), "ink-list.json"))).RootElement;

    private string[] Films(string folder) =>
        [.. Directory.GetFiles(Path.Combine(Out(folder), "plates")).Order(StringComparer.Ordinal)];

    private static double Fx(string file, string expression, params string[] options) =>
        double.Parse(
            Programs.Run("convert", [file, .. options, "-format", $"%[fx:{expression}]", "info:"]),
            CultureInfo.InvariantCulture
        );

    [SkippableFact]
    public async Task A_mirrored_screen_of_four_images_on_pixels_that_are_not_square_is_read_by_other_programs()
    {
        var (code, _, error) = await Make("four", "--device", Out("device.json"), "--images-on-screen", "2x2");

        Assert.True(code == 0, error);
        var film = Films("four")[0];
        var info = Programs.Run("tiffinfo", film);
        Assert.Contains("Resolution: 1440, 720 pixels/inch", info, StringComparison.Ordinal);
        Assert.Contains("Compression Scheme: CCITT Group 4", info, StringComparison.Ordinal);
        Assert.Contains("Photometric Interpretation: min-is-white", info, StringComparison.Ordinal);
        Assert.Contains("; 2 x 2 images every ", info, StringComparison.Ordinal);
        Assert.Contains("; mirrored; ", info, StringComparison.Ordinal);

        // Turned over again, its square code says what the film is.
        var plain = Out("plain.png");
        Programs.Run("convert", film, "-flop", "-resize", "50%x100%", plain);
        var digest = InkList("four").GetProperty("plates")[0].GetProperty("imageSha256").GetString()!;
        Assert.EndsWith(
            $"/1/{digest[..4]}-{digest[4..8]}".ToUpperInvariant(),
            Programs.Run("zbarimg", "-q", "--raw", plain).Trim(),
            StringComparison.Ordinal
        );

        var turned = Out("turned.tif");
        Programs.Run("vips", "flip", film, turned + "[compression=ccittfax4,bitdepth=1]", "horizontal");

        // Each of the four carries the coverage the ink list counts, and the digest is of one.
        var n = Regex.Match(info, @"image area (\d+) (\d+) (\d+) (\d+) px; 2 x 2 images every (\d+) (\d+) px");
        var at = n.Groups.Values.Skip(1).Select(g => int.Parse(g.Value, CultureInfo.InvariantCulture)).ToArray();
        var listed = InkList("four").GetProperty("plates")[0].GetProperty("coveragePercent").GetDouble();
        foreach (var (x, y) in ((int, int)[])[(0, 0), (1, 0), (0, 1), (1, 1)])
        {
            int[] image = [at[0] + x * at[4], at[1] + y * at[5], at[2], at[3]];
            var one = Out("one.v");
            Programs.Run(
                "vips",
                ["extract_area", turned, one, .. image.Select(n => n.ToString(CultureInfo.InvariantCulture))]
            );
            var mean = double.Parse(Programs.Run("vips", "avg", one), CultureInfo.InvariantCulture);
            Assert.Equal(listed, 100 * (1 - mean / 255), 0.05);
        }
        var pbm = Out("one.pbm");
        Programs.Run("convert", film, "-flop", "-crop", $"{at[2]}x{at[3]}+{at[0]}+{at[1]}", "+repage", pbm);
        var bytes = await File.ReadAllBytesAsync(pbm);
        var rows = bytes[^((at[2] + 7) / 8 * at[3])..];
        Assert.Equal(digest, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(rows)));
        // 60 mm, 0.2 % longer at 1440 dpi.
        Assert.Equal(60 * 1.002, at[2] / 1440.0 * 25.4, 0.02);
        Assert.Equal(2, InkList("four").GetProperty("imagesOnScreen").GetProperty("columns").GetInt32());
    }

    [Fact]
    public async Task Several_images_change_no_coverage_and_no_ink()
    {
        await Make("one", "--film-dpi", "720");
        await Make("six", "--film-dpi", "720", "--images-on-screen", "3x2", "--gap-mm", "15");

        var (one, six) = (InkList("one"), InkList("six"));

        Assert.Equal(one.GetProperty("plates").GetRawText(), six.GetProperty("plates").GetRawText());
        Assert.Equal(one.GetProperty("grounds").GetRawText(), six.GetProperty("grounds").GetRawText());
        Assert.Equal(
            await File.ReadAllBytesAsync(Path.Combine(Out("one"), "print.png")),
            await File.ReadAllBytesAsync(Path.Combine(Out("six"), "print.png"))
        );
        using var pdf = PdfDocument.Open(Path.Combine(Out("six"), "plates.pdf"));
        Assert.Equal(6 * one.GetProperty("plates").GetArrayLength(), pdf.GetPage(1).GetImages().Count());
    }

    [SkippableFact]
    public async Task Plates_for_a_device_that_screens_itself_are_8_bit_with_what_it_is_asked_for()
    {
        var (code, _, error) = await Make("tones", "--device", Out("device.json"), "--hand-over", "tones");

        Assert.True(code == 0, error);
        var info = Programs.Run("tiffinfo", Films("tones")[0]);
        Assert.Contains("Bits/Sample: 8", info, StringComparison.Ordinal);
        Assert.Contains("Photometric Interpretation: min-is-black", info, StringComparison.Ordinal);
        Assert.Contains("; tones bound, dots simulated; ", info, StringComparison.Ordinal);
        Assert.Contains(" lpi, 22.5 degrees, Elliptical; image area ", info, StringComparison.Ordinal);
        var device = InkList("tones").GetProperty("device");
        Assert.Equal("tones bound, dots simulated", device.GetProperty("words").GetString());
        Assert.Equal("back room recorder", device.GetProperty("name").GetString());
        Assert.Equal("automatic", device.GetProperty("frame").GetString());
        // Asked for a whole ruling, simulated with the nearest one of this resolution.
        var rows = InkList("tones").GetProperty("grounds")[0].GetProperty("rows").EnumerateArray().ToArray();
        Assert.All(
            rows.Where(r => r.GetProperty("lpi").ValueKind == JsonValueKind.Number),
            r => Assert.Equal((50, 22.5), (r.GetProperty("lpi").GetDouble(), r.GetProperty("angleDegrees").GetDouble()))
        );
        Assert.Equal(50, InkList("tones").GetProperty("plates")[0].GetProperty("simulatedLpi").GetDouble(), 0.5);
    }

    [SkippableFact]
    public async Task Films_are_shown_small_each_and_together()
    {
        var (_, output, _) = await Make("views", "--film-dpi", "720");

        var views = Directory.GetFiles(Path.Combine(Out("views"), "films")).Order(StringComparer.Ordinal).ToArray();
        Assert.Equal(Films("views").Length, views.Length);
        Assert.StartsWith("film-01-", Path.GetFileName(views[0]), StringComparison.Ordinal);
        Assert.Contains("\nfilms.png\n", output, StringComparison.Ordinal);
        Assert.All(views, view => Assert.InRange(Fx(view, "w"), 300, 640));
        // A film is mostly clear; the overview lies on grey.
        Assert.InRange(Fx(views[0], "mean"), 0.5, 0.99);
        Assert.InRange(Fx(Path.Combine(Out("views"), "films.png"), "mean"), 0.5, 0.98);
    }

    [Fact]
    public async Task A_film_the_device_does_not_take_is_refused_and_exits_with_1()
    {
        var (code, output, error) = await Make("wide", "--device", Out("device.json"), "--images-on-screen", "5x1");

        // Five of 60 mm, four gaps of 20 and 15 on both sides.
        Assert.Equal((1, ""), (code, output));
        Assert.StartsWith(
            "refusal: the film is 410.0 mm wide with its margins, back room recorder takes 330.0 mm: 80.0 mm too much\n"
                + "  hint: put fewer images beside each other, make the print 44 mm wide or less, or choose a wider device\n",
            error,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData(
        "--images-on-screen|2",
        "--images-on-screen is columns x rows, each 1 to 8, for instance 2x2; '2' given"
    )]
    [InlineData(
        "--images-on-screen|9x1",
        "--images-on-screen is columns x rows, each 1 to 8, for instance 2x2; '9x1' given"
    )]
    [InlineData("--gap-mm|20", "--gap-mm goes with --images-on-screen CxR")]
    [InlineData("--device|none.json", "there is no file 'none.json'")]
    public async Task What_is_not_understood_exits_with_2(string line, string problem)
    {
        var (code, _, error) = await Make("u", line.Split('|'));

        Assert.Equal((2, problem), (code, error.Split('\n')[0]));
    }

    [Fact]
    public async Task A_device_file_names_its_field()
    {
        await File.WriteAllTextAsync(Out("bad.json"), """{ "name": "x", "xDpi": 100 }""");

        var (code, _, error) = await Make("b", "--device", Out("bad.json"));

        Assert.Equal(2, code);
        Assert.Equal(
            $"{Out("bad.json")}, field xDpi: 100 dpi is given; 300 to 5080 is possible\nhint: docs/films.md shows a device and a frame template with all their fields\n",
            error
        );
    }
}
