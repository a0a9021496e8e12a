using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs.Layers;

/// <summary>TIFF of several pages as ImageMagick and libtiff's tools write it: each grey page is an ink.</summary>
public sealed class TiffLayersTests : LayerFixture
{
    private string Pages(string name, params string[] pages)
    {
        Programs.Run("convert", [.. pages, In(name)]);
        return In(name);
    }

    private void Name(string file, int page, string name) =>
        Programs.Run("tiffset", "-d", $"{page}", "-s", "285", name, file);

    private string ThreeInks(params string[] options)
    {
        Drawn("a.png", "-draw", "circle 100,100 100,40");
        Drawn("b.png", "-draw", "rectangle 60,60 240,140");
        Drawn("c.png", "-draw", "polygon 20,180 280,180 150,20");
        var file = Pages("three.tif", [In("a.png"), In("b.png"), In("c.png"), "-type", "Grayscale", .. options]);
        Name(file, 0, "Base");
        Name(file, 1, "01_Red");
        Name(file, 2, "Royal blue");
        return file;
    }

    [SkippableTheory]
    [InlineData("")]
    [InlineData("-depth 16")]
    [InlineData("-monochrome -compress Group4")]
    [InlineData("-negate -define quantum:polarity=min-is-white")]
    [InlineData("-define tiff:endian=msb -compress LZW")]
    public async Task Pages_become_layers_by_their_names_and_dark_is_ink(string options)
    {
        var file = ThreeInks(options.Split(' ', StringSplitOptions.RemoveEmptyEntries));

        var art = await Read(file);

        Assert.Equal(["Base", "01_Red", "Royal blue"], art.Layers.Select(l => l.Name));
        Assert.All(art.Layers, l => Assert.Null(l.Colour));
        for (var i = 0; i < 3; i++)
        {
            var counted = InkByConvert($"{file}[{i}]");
            Assert.InRange(counted, 0.1, 0.5);
            Assert.Equal(counted, Mean(art.Layers[i]), 0.0005);
        }
        Assert.Equal(
            new Finding(
                "layers-read",
                FindingWeight.Note,
                "the file keeps 3 layers apart, the first printed first: Base, 01_Red, Royal blue",
                "nothing, or have them flattened to separate the picture by its colours",
                3,
                null,
                "layers"
            ),
            Assert.Single(art.Findings)
        );
    }

    [SkippableFact]
    public async Task Min_is_white_and_min_is_black_are_the_same_picture()
    {
        var black = await Read(ThreeInks("-define", "quantum:polarity=min-is-black"));
        var info = Programs.Run("tiffinfo", In("three.tif"));
        var white = await Read(ThreeInks("-negate", "-define", "quantum:polarity=min-is-white"));

        Assert.Contains("min-is-black", info, StringComparison.Ordinal);
        Assert.Contains("min-is-white", Programs.Run("tiffinfo", In("three.tif")), StringComparison.Ordinal);
        for (var i = 0; i < 3; i++)
            Assert.Equal(black.Layers[i].Coverage.Pixels, white.Layers[i].Coverage.Pixels);
    }

    [SkippableFact]
    public async Task The_picture_is_the_layers_on_each_other_in_the_colours_their_names_say()
    {
        var art = await Read(ThreeInks());

        // Outside, white base alone, red on the base, blue on red.
        Assert.Equal(0, art.Pixel(5, 5)[3]);
        Assert.Equal([1, 1, 1, 1], art.Pixel(100, 45));
        Assert.Equal([Light(0xc4), Light(0x2a), Light(0x2c), 1], art.Pixel(65, 70), Near);
        Assert.Equal([Light(0x24), Light(0x50), Light(0xa4), 1], art.Pixel(150, 100), Near);
        static bool Near(double a, double b) => Math.Abs(a - b) < 1e-3;
    }

    [SkippableFact]
    public async Task A_page_in_one_colour_tells_its_colour_and_its_tints()
    {
        Programs.Run(
            "convert",
            [
                "-size",
                "300x200",
                "xc:white",
                "-fill",
                "#c8102e",
                "-draw",
                "rectangle 0,0 149,199",
                "-fill",
                "rgb(228,136,151)",
                "-draw",
                "rectangle 150,0 224,199",
                In("red.png"),
            ]
        );
        Drawn("grey.png", "-draw", "rectangle 0,0 299,99");
        var file = Pages("two.tif", In("red.png"), In("grey.png"));

        var art = await Read(file);

        Assert.Equal(["page 1", "page 2"], art.Layers.Select(l => l.Name));
        Assert.Equal(["#c8102e", null], art.Layers.Select(l => l.Colour));
        Assert.Equal((255, 0), (art.Layers[0].Coverage[10, 10], art.Layers[0].Coverage[290, 10]));
        // 50 % of the ink by code values: half way from white.
        Assert.InRange(art.Layers[0].Coverage[180, 10], 127, 129);
    }

    [SkippableFact]
    public async Task Names_come_from_the_description_where_no_page_has_one()
    {
        Drawn("a.png", "-draw", "circle 100,100 100,40");
        Drawn("b.png", "-draw", "rectangle 60,60 240,140");
        var file = Pages("described.tif", In("a.png"), In("b.png"));
        Programs.Run("tiffset", "-d", "0", "-s", "270", "Navy", file);
        Programs.Run("tiffset", "-d", "1", "-s", "270", "White, top", file);

        Assert.Equal(["Navy", "White, top"], (await Read(file)).Layers.Select(l => l.Name));
    }

    [SkippableFact]
    public async Task Pages_of_unequal_size_are_refused_with_the_page_and_the_difference()
    {
        Drawn("a.png", "-draw", "circle 100,100 100,40");
        Drawn("b.png", "-draw", "rectangle 60,60 240,140", "-extent", "290x204");
        var file = Pages("unequal.tif", In("a.png"), In("b.png"));
        Name(file, 0, "Red");
        Name(file, 1, "Navy");

        var no = await Assert.ThrowsAsync<UnreadableArt>(() => Read(file));

        Assert.Equal("layers-of-unequal-size", no.Code);
        Assert.Equal(
            "page 2 \"Navy\" is 290 x 204 px, 10 px narrower and 4 px higher than page 1 \"Red\": layers of one print lie on each other and have one size",
            no.What
        );
        Assert.Equal("export all layers with the whole canvas, none of them cropped", no.NextStep);
    }

    [SkippableFact]
    public async Task A_page_of_several_colours_keeps_the_file_flat_and_is_named()
    {
        Drawn("a.png", "-draw", "circle 100,100 100,40");
        Programs.Run("convert", "-size", "300x200", "plasma:red-blue", In("b.png"));
        var file = Pages("mixed.tif", In("a.png"), In("b.png"));
        Name(file, 1, "Photo");

        var art = await Read(file);

        Assert.Empty(art.Layers);
        Assert.Equal(
            new Finding(
                "layers-not-taken",
                FindingWeight.Warning,
                "the pages are not taken as layers: page 2 \"Photo\" shows several colours",
                "save every page in grey, dark for ink, or in one colour, if each page is an ink"
            ),
            Assert.Single(art.Findings, f => f.Code == "layers-not-taken")
        );
        Assert.Single(art.Findings, f => f.Code == "only-first-page");
    }

    [SkippableFact]
    public async Task More_pages_than_a_press_has_heads_stay_flat()
    {
        Drawn("a.png", "-draw", "circle 100,100 100,40");
        var file = Pages("many.tif", [.. Enumerable.Repeat(In("a.png"), 17)]);

        var art = await Read(file);

        Assert.Empty(art.Layers);
        Assert.Equal(
            "the 17 pages are not taken as layers: 16 are the limit",
            Assert.Single(art.Findings, f => f.Code == "layers-not-taken").Message
        );
    }

    [SkippableFact]
    public async Task An_empty_page_is_no_layer_and_is_said()
    {
        Drawn("a.png", "-draw", "circle 100,100 100,40");
        Drawn("b.png");
        Drawn("c.png", "-draw", "rectangle 60,60 240,140");
        var file = Pages("empty.tif", In("a.png"), In("b.png"), In("c.png"));
        Name(file, 1, "Silver");

        var art = await Read(file);

        Assert.Equal(2, art.Layers.Length);
        Assert.Equal(
            "the layer \"Silver\" has no ink: no plate is made of it",
            Assert.Single(art.Findings, f => f.Code == "layer-empty").Message
        );
    }

    [SkippableFact]
    public async Task Layers_beyond_the_limit_of_pixels_are_refused()
    {
        var no = await Assert.ThrowsAsync<UnreadableArt>(() =>
            Read(ThreeInks(), limits: DecodeLimits.Default with { MaxLayerPixels = 120_000 })
        );

        Assert.Equal("too-many-layer-pixels", no.Code);
        Assert.Equal("3 layers of 300 x 200 px are 0.2 megapixels; 0.1 are the limit", no.What);
    }

    /// <summary>Whatever stands in the file, the answer is layers, a picture or words.</summary>
    [SkippableFact]
    public async Task Damaged_files_are_refused_in_words()
    {
        var whole = await File.ReadAllBytesAsync(ThreeInks("-compress", "LZW"));
        var random = new Random(4);
        for (var round = 0; round < 24; round++)
        {
            var file = whole.ToArray();
            for (var i = 0; i < 6; i++)
                // The directories and tags stand at the ends; anywhere is pixels.
                file[round % 2 == 0 ? random.Next(file.Length) : file.Length - 1 - random.Next(600)] = (byte)
                    random.Next(256);
            if (round % 4 == 3)
                file = file[..random.Next(20, file.Length)];
            try
            {
                Assert.NotNull(await Read(file));
            }
            catch (UnreadableArt no)
            {
                Assert.NotEqual("decoder-stopped", no.Code);
                Assert.NotEmpty(no.NextStep);
            }
        }
    }

    [SkippableFact]
    public async Task A_file_cut_short_is_refused()
    {
        var whole = await File.ReadAllBytesAsync(ThreeInks());

        var no = await Refused(whole[..(whole.Length / 2)]);

        Assert.Equal(
            (
                "damaged",
                "the tiff file is cut short or damaged",
                "export it again from the program that made it and send the whole file"
            ),
            (no.Code, no.What, no.NextStep)
        );
    }
}
