using System.Buffers.Binary;
using System.Text.Json;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Graphics.Colors;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>`proofdesk make` from art to folder, on a small three-colour drawing of ours.</summary>
public sealed class MakeCommandTests : IDisposable
{
    private const string Pennant = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 40" width="60" height="40">
          <path d="M0 0 H60 V40 H0 Z" fill="#1d3f8f"/>
          <path d="M0 0 L40 20 L0 40 Z" fill="#d0202e"/>
          <circle cx="12" cy="20" r="6" fill="#f2c200"/>
        </svg>
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-make-").FullName;
    private readonly string _art;

    public MakeCommandTests()
    {
        _art = Path.Combine(_folder, "pennant.svg");
        File.WriteAllText(_art, Pennant);
    }

    public void Dispose() => Directory.Delete(_folder, true);

    private string Out(string name) => Path.Combine(_folder, name);

    private Task<(int Code, string Output, string Error)> Make(string folder, string colours, params string[] more) =>
        RunAsync([
            "make",
            _art,
            "--garment-px",
            "0.5",
            "--garment",
            "tee",
            "--colour",
            colours,
            "--method",
            "plastisol",
            "--width-mm",
            "60",
            "--out",
            Out(folder),
            "--film-dpi",
            "720",
            .. more,
        ]);

    private JsonElement InkList(string folder) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(Out(folder), "ink-list.json"))).RootElement;

    [Fact]
    public async Task One_colour_gives_the_folder_of_the_contract()
    {
        var (code, output, _) = await Make("one", "white");

        Assert.Equal(0, code);
        string[] files =
        [
            "films.png",
            "findings.json",
            "garment.png",
            "ink-list.csv",
            "ink-list.json",
            "plates.pdf",
            "print.png",
            "recipe.json",
        ];
        Assert.Equal(files, Directory.GetFiles(Out("one")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Assert.Contains("print.png  ", output, StringComparison.Ordinal);
        Assert.StartsWith(
            "01-",
            Path.GetFileName(Directory.GetFiles(Path.Combine(Out("one"), "plates")).Order().First())
        );
    }

    /// <summary>Common practice, counted from the ink list (the order's own words).</summary>
    [Fact]
    public async Task Three_colours_are_three_screens_on_white_and_four_on_black()
    {
        var (code, _, error) = await Make("two", "white,black");

        Assert.True(code == 0, error);
        var screens = InkList("two")
            .GetProperty("grounds")
            .EnumerateArray()
            .ToDictionary(g => g.GetProperty("ground").GetString()!, g => g.GetProperty("rows").GetArrayLength());
        Assert.Equal(3, screens["tee/white"]);
        Assert.Equal(4, screens["tee/black"]);
        foreach (var name in (string[])["print-white.png", "print-black.png", "garment-white.png", "garment-black.png"])
            Assert.True(File.Exists(Path.Combine(Out("two"), name)), name);
        Assert.Equal(
            8,
            File.ReadAllText(Path.Combine(Out("two"), "ink-list.csv"))
                .Split("\r\n", StringSplitOptions.RemoveEmptyEntries)
                .Length
        );
    }

    [Fact]
    public async Task The_same_recipe_gives_the_same_bytes()
    {
        await Make("a", "black");
        await Make("b", "black");

        AssertSameFiles("a", "b");
    }

    [SkippableFact]
    public async Task One_processor_gives_the_same_bytes_as_all()
    {
        await Make("all", "black");
        string[] arguments =
        [
            "DOTNET_PROCESSOR_COUNT=1",
            Path.Combine(AppContext.BaseDirectory, "proofdesk"),
            "make",
            _art,
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
            "--out",
            Out("one"),
            "--film-dpi",
            "720",
        ];
        Programs.Run("env", arguments);

        AssertSameFiles("all", "one");
    }

    private void AssertSameFiles(string one, string another)
    {
        foreach (var file in Directory.GetFiles(Out(one), "*", SearchOption.AllDirectories))
        {
            var other = Path.Combine(Out(another), Path.GetRelativePath(Out(one), file));
            Assert.True(
                File.ReadAllBytes(file).AsSpan().SequenceEqual(File.ReadAllBytes(other)),
                Path.GetFileName(file)
            );
        }
    }

    [SkippableFact]
    public async Task Coverage_agrees_between_tiff_ghostscript_and_ink_list()
    {
        await Make("c", "black");
        var separated = Tiffsep.Plates(Path.Combine(Out("c"), "plates.pdf"), 720, Out("sep"), "-dUseTrimBox");
        var tiffs = Directory.GetFiles(Path.Combine(Out("c"), "plates")).Order(StringComparer.Ordinal).ToArray();

        var plates = InkList("c").GetProperty("plates").EnumerateArray().ToArray();

        Assert.Equal(plates.Length, tiffs.Length);
        for (var i = 0; i < plates.Length; i++)
        {
            var name = plates[i].GetProperty("plate").GetString()!;
            var listed = plates[i].GetProperty("coveragePercent").GetDouble();
            var area = ImageArea(tiffs[i]);
            Assert.Equal(listed, Dark(tiffs[i], "-crop", area, "+repage"), 0.05);
            Assert.Equal(listed, Dark(separated[name]), 0.05);
        }
    }

    private static string ImageArea(string tiff)
    {
        var info = Programs.Run("tiffinfo", tiff);
        var at = info.IndexOf("image area ", StringComparison.Ordinal);
        var n = info[(at + 11)..].Split(' ');
        return $"{n[2]}x{n[3]}+{n[0]}+{n[1]}";
    }

    private static double Dark(string picture, params string[] options) =>
        double.Parse(
            Programs.Run("convert", [picture, .. options, "-format", "%[fx:100*(1-mean)]", "info:"]),
            System.Globalization.CultureInfo.InvariantCulture
        );

    [SkippableFact]
    public async Task The_square_code_of_a_film_is_read_by_zbar_and_names_its_digest()
    {
        await Make("q", "white", "--order", "2041");
        var film = Directory.GetFiles(Path.Combine(Out("q"), "plates")).Order(StringComparer.Ordinal).First();
        var png = Out("film.png");
        Programs.Run("convert", film, png);

        var said = Programs.Run("zbarimg", "-q", "--raw", png).Trim();

        var digest = InkList("q").GetProperty("plates")[0].GetProperty("imageSha256").GetString()!;
        Assert.StartsWith("2041/pennant/", said, StringComparison.Ordinal);
        Assert.EndsWith($"/1/{digest[..4]}-{digest[4..8]}".ToUpperInvariant(), said, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task Films_are_group_4_tiffs_at_the_devices_resolution()
    {
        await Make("t", "white");
        var film = Directory.GetFiles(Path.Combine(Out("t"), "plates")).Order(StringComparer.Ordinal).First();

        var info = Programs.Run("tiffinfo", film);

        Assert.Contains("Compression Scheme: CCITT Group 4", info, StringComparison.Ordinal);
        Assert.Contains("Resolution: 720, 720 pixels/inch", info, StringComparison.Ordinal);
        Assert.Contains("Photometric Interpretation: min-is-white", info, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Tones_for_a_device_that_screens_itself_are_eight_bit_separations()
    {
        var (code, _, error) = await Make("d", "white", "--hand-over", "tones");

        Assert.True(code == 0, error);
        Assert.Equal("tones", InkList("d").GetProperty("device").GetProperty("bound").GetString());
        using var pdf = PdfDocument.Open(Path.Combine(Out("d"), "plates.pdf"));
        var images = pdf.GetPage(1).GetImages().ToArray();
        Assert.Equal(3, images.Length);
        Assert.All(images, i => Assert.IsType<SeparationColorSpaceDetails>(i.ColorSpaceDetails));
    }

    [Fact]
    public async Task The_print_is_tagged_and_to_scale()
    {
        await Make("p", "white");

        var png = await File.ReadAllBytesAsync(Path.Combine(Out("p"), "print.png"));

        Assert.True(png.AsSpan().IndexOf("iCCP"u8) > 0 || png.AsSpan().IndexOf("sRGB"u8) > 0);
        var at = png.AsSpan().IndexOf("pHYs"u8);
        var perMetre = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at + 4));
        var width = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16));
        // 60 mm of print and 12 mm of cloth on both sides.
        Assert.Equal(84, width * 1000.0 / perMetre, 0.5);
    }

    [Fact]
    public async Task Art_that_cannot_be_read_exits_with_1()
    {
        await File.WriteAllTextAsync(_art, "%!PS-Adobe-3.0");

        var (code, output, error) = await Make("x", "white");

        Assert.Equal((1, ""), (code, output));
        Assert.Equal(
            "this is a postscript file; png, jpeg, tiff, webp, svg, pdf and a zip of layers are read\n"
                + "hint: save the art as png with transparency, or as svg, and send that\n",
            error
        );
    }

    [Fact]
    public async Task A_discharge_base_on_polyester_is_refused_with_its_finding_and_exits_with_1()
    {
        var (code, output, error) = await Make("y", "poly-black", "--base", "discharge");

        Assert.Equal((1, ""), (code, output));
        Assert.Contains("refusal: ", error, StringComparison.Ordinal);
        Assert.Contains(
            "\"weight\": \"refusal\"",
            await File.ReadAllTextAsync(Path.Combine(Out("y"), "findings.json")),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("mak", "no verb 'mak'; did you mean 'make'?")]
    [InlineData("make|art.png|--colr", "no option '--colr'; did you mean '--colour'?")]
    [InlineData("make|art.png", "--garment is missing")]
    [InlineData("make|art.png|b.png", "one art file is made at a time; 'art.png' and 'b.png' given")]
    [InlineData("make|--garment|tee|--garment|tee", "--garment is given twice")]
    [InlineData("make|--garment", "--garment needs a value")]
    [InlineData("make|*|--width-mm|wide", "--width-mm is a number from 5 to 1000; 'wide' given")]
    [InlineData(
        "make|*|--base|whit",
        "--base is one of auto, white, discharge, none; 'whit' given; did you mean 'white'?"
    )]
    [InlineData("make|*|--dots|pm", "--dots is one of am, fm; 'pm' given; did you mean 'am'?")]
    [InlineData("make|*|--fm-dot-um|90", "--fm-dot-um is the size of stochastic dots, which --dots fm asks for")]
    [InlineData("make|*|--angle|200", "--angle is a number from 0 to 179.9; '200' given")]
    [InlineData("make|*|--colour|blak", "'tee' has no colour 'blak'; did you mean 'black'?")]
    [InlineData("make|*|--garment|te", "no garment 'te'; did you mean 'tee'?")]
    [InlineData("make|*|--method|plastsol", "no method 'plastsol'; did you mean 'plastisol'?")]
    [InlineData("make|*|--inks|0", "--inks takes 1 to 20 colours; 0 given")]
    [InlineData("make|*|--inks|none.json", "--inks is auto, a number or a file; there is no file 'none.json'")]
    [InlineData("methods|x", "'methods' takes nothing, 'x' given")]
    public async Task What_is_not_understood_exits_with_2_and_says_what_was_meant(string line, string problem)
    {
        var words = line.Split('|').ToList();
        if (words.Remove("*"))
        {
            string[] whole =
            [
                _art,
                "--garment",
                "tee",
                "--colour",
                "white",
                "--method",
                "plastisol",
                "--width-mm",
                "60",
                "--out",
                Out("u"),
            ];
            var changed = words.IndexOf(words.Find(w => w.StartsWith("--", StringComparison.Ordinal))!);
            var at = Array.IndexOf(whole, words[changed]);
            if (at >= 0)
                words.RemoveRange(changed, 2);
            words.AddRange(at < 0 ? whole : [.. whole[..(at + 1)], line.Split('|')[^1], .. whole[(at + 2)..]]);
        }

        var (code, output, error) = await RunAsync([.. words]);

        Assert.Equal((2, ""), (code, output));
        Assert.Equal(problem, error.Split('\n')[0]);
    }

    [Fact]
    public async Task An_unknown_method_is_a_slip_and_the_known_ones_are_named()
    {
        var (code, _, error) = await RunAsync([
            "make",
            _art,
            "--garment",
            "tee",
            "--colour",
            "white",
            "--method",
            "foill",
            "--width-mm",
            "60",
            "--out",
            Out("f"),
        ]);

        Assert.Equal(2, code);
        Assert.StartsWith("no method 'foill'", error, StringComparison.Ordinal);
        Assert.Contains("'foil'", error, StringComparison.Ordinal);
        Assert.Contains("hint: there are plastisol, water-based, ", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_lists_name_what_make_takes()
    {
        var (_, methods, _) = await RunAsync("methods");
        var (_, garments, _) = await RunAsync("garments");
        var (_, inks, _) = await RunAsync("inks");

        Assert.StartsWith("plastisol  Screen print, plastisol: ", methods, StringComparison.Ordinal);
        Assert.Contains("  caution: ", methods, StringComparison.Ordinal);
        Assert.Contains("tee  Crew-neck tee, sizes S M L XL", garments, StringComparison.Ordinal);
        Assert.Contains("\n  black  Black: 100 % cotton; data class C\n", garments, StringComparison.Ordinal);
        Assert.Contains("white  White: plastisol; data class C\n", inks, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_ink_file_names_its_line()
    {
        var file = Out("inks.csv");
        await File.WriteAllTextAsync(file, "ink,note\nred,\nblu,\n");

        var (code, _, error) = await Make("i", "white", "--inks", file);

        Assert.Equal(2, code);
        Assert.StartsWith($"{file}, line 3: no ink 'blu'", error, StringComparison.Ordinal);
    }
}
