using System.Globalization;
using System.Text.Json;
using System.Xml.Linq;
using static ProofDesk.Cli.Tests.Terminal;

namespace ProofDesk.Cli.Tests;

/// <summary>
/// Layered files of general programs go through `proofdesk make`; what is on plates.pdf is counted by Ghostscript, what was
/// drawn by other programs, and the two agree.
/// </summary>
public sealed class LayeredArtTests : IDisposable
{
    /// <summary>Saved by a general drawing program; canvas 200 x 160 mm.</summary>
    private static readonly string Harbour = Path.Combine(Root, "tests", "TestPictures", "harbour.svg");

    private const double CanvasMm2 = 200 * 160;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-layered-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private string In(string name) => Path.Combine(_folder, name);

    private Task<(int Code, string Output, string Error)> Make(
        string art,
        string method,
        string colours,
        params string[] more
    ) =>
        RunAsync([
            "make",
            art,
            "--garment",
            "tee",
            "--colour",
            colours,
            "--method",
            method,
            "--width-mm",
            "120",
            "--out",
            In("out"),
            "--film-dpi",
            "720",
            "--garment-px",
            "0.5",
            .. more,
        ]);

    /// <summary>Inked areas of the plates of the print as Ghostscript separates them, without the marks beside it, mm2.</summary>
    private Dictionary<string, double> OnPlates() =>
        Tiffsep.AreasMm2(Path.Combine(In("out"), "plates.pdf"), 720, "-dUseTrimBox");

    /// <summary>Opaque area of one group of the drawing as another build of libvips draws it, mm2.</summary>
    private double InGroup(string label)
    {
        var svg = XDocument.Load(Harbour);
        foreach (var other in svg.Root!.Elements().Where(e => e.Name.LocalName == "g"))
            if (other.Attributes().First(a => a.Name.LocalName == "label").Value != label)
                other.SetAttributeValue("style", "display:none");
        svg.Save(In("group.svg"));
        Programs.Run("vips", "svgload", In("group.svg"), In("group.v"), "--scale", "4");
        Programs.Run("vips", "extract_band", In("group.v"), In("alpha.v"), "3");
        return double.Parse(Programs.Run("vips", "avg", In("alpha.v")), CultureInfo.InvariantCulture) / 255 * CanvasMm2;
    }

    private string[] Plates() => [.. InkNames()];

    private IEnumerable<string> InkNames() =>
        Directory
            .EnumerateFiles(Path.Combine(In("out"), "plates"), "*.tif")
            .Select(Path.GetFileNameWithoutExtension)
            .Order(StringComparer.Ordinal)!;

    [SkippableFact]
    public async Task A_layered_svg_is_separated_by_name_and_Ghostscript_counts_what_was_drawn()
    {
        var (code, _, error) = await Make(Harbour, "plastisol", "black,white");

        Assert.True(code == 0, error);
        Assert.Equal(["01-base", "02-warm-yellow", "03-reds", "04-navy"], Plates());
        var on = OnPlates();
        // The inked extent is as wide as the sun, 120 mm, so a millimetre of the drawing is one of the print. 0.5 % of each layer.
        Assert.Equal(InGroup("Base white"), on["Base"], 0.005 * InGroup("Base white"));
        Assert.Equal(InGroup("01 Warm yellow"), on["Warm yellow"], 0.005 * InGroup("01 Warm yellow"));
        Assert.Equal(InGroup("02 Reds"), on["Reds"], 0.005 * InGroup("02 Reds"));
        // The fade is smaller on film by what its dots will grow.
        Assert.InRange(on["Navy"], 0.7 * InGroup("03 Navy"), InGroup("03 Navy"));
        Assert.Contains("the layer \"02 Reds\" prints in Red: by the word \"red\"\n", error, StringComparison.Ordinal);
        Assert.Contains("the layer \"Base white\" is the base as it was drawn", error, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task A_tiff_of_pages_is_separated_by_page_names_and_Ghostscript_counts_what_convert_counts()
    {
        Programs.Run(
            "convert",
            "-size",
            "1200x900",
            "xc:white",
            "-fill",
            "black",
            "-draw",
            "rectangle 0,0 1199,899",
            In("a.png")
        );
        Programs.Run(
            "convert",
            "-size",
            "1200x900",
            "xc:white",
            "-fill",
            "black",
            "-draw",
            "circle 600,450 600,80",
            In("b.png")
        );
        Programs.Run("convert", In("a.png"), In("b.png"), "-type", "Grayscale", In("two.tif"));
        Programs.Run("tiffset", "-d", "0", "-s", "285", "Royal blue", In("two.tif"));
        Programs.Run("tiffset", "-d", "1", "-s", "285", "01_White top", In("two.tif"));

        var (code, _, error) = await Make(In("two.tif"), "plastisol", "white", "--base", "none");

        Assert.True(code == 0, error);
        Assert.Equal(["01-royal-blue", "02-white-top"], Plates());
        var on = OnPlates();
        for (var page = 0; page < 2; page++)
        {
            var grey = Programs.Run("convert", $"{In("two.tif")}[{page}]", "-format", "%[fx:mean]", "info:");
            var drawn = (1 - double.Parse(grey, CultureInfo.InvariantCulture)) * 120 * 90;
            Assert.Equal(drawn, on[page == 0 ? "Royal blue" : "White top"], 0.005 * drawn);
        }
    }

    [SkippableFact]
    public async Task Layers_that_lie_on_each_other_overprint_in_the_plates_pdf()
    {
        Directory.CreateDirectory(In("set"));
        foreach (var (name, drawing) in Overlapping)
            Programs.Run(
                "convert",
                ["-size", "600x400", "xc:white", "-fill", "black", "-draw", drawing, In($"set/{name}.png")]
            );

        var (code, _, error) = await Make(In("set"), "plastisol", "white");

        Assert.True(code == 0, error);
        var planes = Tiffsep.Plates(Path.Combine(In("out"), "plates.pdf"), 360, In("planes"), "-dUseTrimBox");
        // 600 px are 120 mm. Each plate, and what every two have in common: an upper one knocks nothing out of a lower one.
        string[] plates = ["warm yellow", "royal blue", "black"];
        string Drawn(int i) => In($"set/{i + 1}_{plates[i]}.png");
        string Plated(int i) => planes[char.ToUpperInvariant(plates[i][0]) + plates[i][1..]];
        for (var one = 0; one < 3; one++)
        for (var other = one; other < 3; other++)
        {
            var drawn = CommonPercent(Drawn(one), Drawn(other));
            Assert.True(drawn > 2, $"{plates[one]} and {plates[other]} share {drawn} %");
            Assert.Equal(drawn, CommonPercent(Plated(one), Plated(other)), 0.5);
        }
    }

    private static readonly (string Name, string Drawing)[] Overlapping =
    [
        ("1_warm yellow", "rectangle 0,0 599,299"),
        ("2_royal blue", "rectangle 200,100 599,399"),
        ("3_black", "circle 300,200 300,80"),
    ];

    /// <summary>Share of the picture that is dark in both.</summary>
    private static double CommonPercent(string one, string other) =>
        100
        * (
            1
            - double.Parse(
                Programs.Run(
                    "convert",
                    one,
                    other,
                    "-colorspace",
                    "Gray",
                    "-compose",
                    "Lighten",
                    "-composite",
                    "-format",
                    "%[fx:mean]",
                    "info:"
                ),
                CultureInfo.InvariantCulture
            )
        );

    [SkippableFact]
    public async Task A_folder_of_pictures_is_a_set_of_layers()
    {
        Directory.CreateDirectory(In("set"));
        Programs.Run(
            "convert",
            "-size",
            "600x450",
            "xc:white",
            "-fill",
            "black",
            "-draw",
            "circle 300,225 300,20",
            In("set/2_navy.png")
        );
        Programs.Run(
            "convert",
            "-size",
            "600x450",
            "xc:white",
            "-fill",
            "black",
            "-draw",
            "rectangle 20,20 580,430",
            In("set/1_warm yellow.png")
        );

        var (code, _, error) = await Make(In("set"), "plastisol", "white");

        Assert.True(code == 0, error);
        Assert.Equal(["01-warm-yellow", "02-navy"], Plates());
    }

    [Fact]
    public async Task Flattened_layers_are_one_picture_and_the_recipe_says_so()
    {
        var (code, _, error) = await Make(Harbour, "plastisol", "black", "--layers", "flatten");

        Assert.True(code == 0, error);
        Assert.Contains("are taken as one picture, as was asked for", error, StringComparison.Ordinal);
        var recipe = JsonDocument.Parse(File.ReadAllText(Path.Combine(In("out"), "recipe.json"))).RootElement;
        Assert.Equal("Flatten", recipe.GetProperty("Spot").GetProperty("Layers").GetString());
    }

    [SkippableFact]
    public async Task Layers_of_which_nothing_says_the_ink_stop_the_job()
    {
        Programs.Run(
            "convert",
            "-size",
            "600x450",
            "xc:white",
            "-fill",
            "black",
            "-draw",
            "circle 300,225 300,20",
            In("a.png")
        );
        Programs.Run("convert", In("a.png"), In("a.png"), In("nameless.tif"));

        var (code, _, error) = await Make(In("nameless.tif"), "plastisol", "white");

        Assert.Equal(1, code);
        Assert.Contains(
            "refusal: nothing says which ink the layer \"page 1\" prints in: its name is no ink of plastisol, and the file shows it in no colour\n",
            error,
            StringComparison.Ordinal
        );
    }
}
