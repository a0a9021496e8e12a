using System.Globalization;
using System.Text;
using System.Xml.Linq;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs.Layers;

/// <summary>Which drawings keep inks apart, and what each layer then covers.</summary>
public sealed class SvgLayersTests : LayerFixture
{
    private static readonly string Harbour = Path.Combine(AppContext.BaseDirectory, "TestPictures", "harbour.svg");

    private static byte[] Svg(string inside) =>
        Encoding.UTF8.GetBytes(
            $"<svg xmlns='http://www.w3.org/2000/svg' xmlns:inkscape='http://www.inkscape.org/namespaces/inkscape' width='100' height='50' viewBox='0 0 100 50'>{inside}</svg>"
        );

    private static string Group(string name, string inside) => $"<g id='{name}'>{inside}</g>";

    private static string Box(string fill, int left, int width) =>
        $"<rect x='{left}' y='5' width='{width}' height='40' fill='{fill}'/>";

    /// <summary>Share of the canvas that another build of libvips finds opaque in one group, taken out of the drawing by us.</summary>
    private double InkByVips(string file, string group, int width)
    {
        var svg = XDocument.Load(file);
        foreach (var other in svg.Root!.Elements().Where(e => e.Name.LocalName == "g"))
            if (other.Attributes().First(a => a.Name.LocalName == "label").Value != group)
                other.SetAttributeValue("style", "display:none");
        svg.Save(In("group.svg"));
        var natural = double.Parse(
            Programs.Run("vipsheader", "-f", "width", In("group.svg")),
            CultureInfo.InvariantCulture
        );
        var scale = (width / natural).ToString("R", CultureInfo.InvariantCulture);
        Programs.Run("vips", "svgload", In("group.svg"), In("group.v"), "--scale", scale);
        Programs.Run("vips", "extract_band", In("group.v"), In("alpha.v"), "3");
        return double.Parse(Programs.Run("vips", "avg", In("alpha.v")), CultureInfo.InvariantCulture) / 255;
    }

    [SkippableFact]
    public async Task A_file_of_a_drawing_program_gives_its_visible_layers_in_order()
    {
        var art = await Read(Harbour);

        Assert.Equal(["Base white", "01 Warm yellow", "02 Reds", "03 Navy"], art.Layers.Select(l => l.Name));
        Assert.Equal(["#ffffff", "#f5c400", "#c8102e", "#1d2a5c"], art.Layers.Select(l => l.Colour));
        Assert.All(
            art.Layers,
            l => Assert.Equal((art.Pixels.Width, art.Pixels.Height), (l.Coverage.Width, l.Coverage.Height))
        );
        foreach (var layer in art.Layers)
            Assert.Equal(InkByVips(Harbour, layer.Name, art.Pixels.Width), Mean(layer), 0.0005);
    }

    [Fact]
    public async Task A_layer_covers_what_geometry_says_and_a_fade_of_its_colour_is_coverage()
    {
        var art = await Read(Harbour);

        // Canvas 200 x 160 mm; sails 36 x 70 / 2 and 32 x 60 / 2 mm2.
        Assert.Equal((36 * 70 / 2.0 + 32 * 60 / 2.0) / (200 * 160), Mean(art.Layers[2]), 0.0005);
        var navy = art.Layers[3].Coverage;
        int Row(double mm) => (int)(mm / 160 * navy.Height);
        // From solid at 118 mm to nothing at 150.
        foreach (var mm in (double[])[120, 126, 134, 142])
            Assert.Equal(255 * (150 - mm) / 32, navy[navy.Width / 2, Row(mm)], 2.0);
    }

    [Fact]
    public async Task The_picture_of_a_layered_file_is_drawn_as_ever()
    {
        var text = await File.ReadAllTextAsync(Harbour);
        // Without names it is one picture.
        var flat = text;
        foreach (var name in (string[])["Base white", "01 Warm yellow", "02 Reds", "03 Navy"])
            flat = flat.Replace($"inkscape:label=\"{name}\"", "", StringComparison.Ordinal);

        var (layered, plain) = (await Read(Harbour), await Read(Encoding.UTF8.GetBytes(flat)));

        Assert.Empty(plain.Layers);
        Assert.Equal(plain.Pixels.Pixels, layered.Pixels.Pixels);
        Assert.Equal(
            "the file keeps 4 layers apart, the first printed first: Base white, 01 Warm yellow, 02 Reds, 03 Navy",
            Assert.Single(layered.Findings).Message
        );
        Assert.Empty(plain.Findings);
    }

    [Theory]
    [InlineData(
        "<g id='icon'><rect width='9' height='9' fill='red'/></g><g id='wordmark'><rect x='20' width='9' height='9' fill='blue'/></g>"
    )]
    [InlineData(
        "<g id='g12'><rect width='9' height='9' fill='red'/></g><g id='layer1'><rect x='20' width='9' height='9' fill='blue'/></g>"
    )]
    [InlineData(
        "<g id='red'><rect width='9' height='9' fill='red'/></g><rect x='20' width='9' height='9' fill='blue'/>"
    )]
    [InlineData(
        "<g id='background'><rect width='90' height='9' fill='red'/></g><g id='red'><rect x='20' width='9' height='9' fill='blue'/></g>"
    )]
    public async Task An_ordinary_drawing_in_groups_stays_one_picture_and_nothing_is_said(string inside)
    {
        var art = await Read(Svg(inside));

        Assert.Empty(art.Layers);
        Assert.Empty(art.Findings);
    }

    private const string Rename =
        "nothing, or name every group at the top for its ink, one colour each, with nothing beside them";

    [Theory]
    [InlineData("<rect x='90' width='9' height='9'/>", "parts of the drawing stand in no group")]
    [InlineData("<g><rect x='90' width='9' height='9'/></g>", "1 of 3 groups has no name")]
    [InlineData(
        "<g id='Texture'><rect x='90' width='9' height='9'/></g>",
        "the group \"Texture\" is not named for an ink"
    )]
    [InlineData("<g><title>red</title><rect x='90' width='9' height='9'/></g>", "two groups are called \"Red\"")]
    public async Task A_drawing_that_comes_near_to_layers_is_told_why_it_was_read_flat(string more, string why)
    {
        var art = await Read(Svg(Group("Red", Box("#c8102e", 5, 30)) + Group("Navy", Box("#1d2a5c", 40, 30)) + more));

        Assert.Empty(art.Layers);
        var names = more.Contains("title", StringComparison.Ordinal) ? "Red, Navy, red" : "Red, Navy";
        Assert.Equal(
            new Finding(
                "layers-not-taken",
                FindingWeight.Note,
                $"the svg has groups named for inks ({names}), but {why}: it is read as one picture",
                Rename
            ),
            Assert.Single(art.Findings)
        );
    }

    [Fact]
    public async Task A_group_of_several_colours_keeps_the_drawing_flat()
    {
        var art = await Read(
            Svg(Group("Red", Box("#c8102e", 5, 30)) + Group("Navy", Box("#1d2a5c", 40, 20) + Box("#3355aa", 62, 20)))
        );

        Assert.Empty(art.Layers);
        Assert.Equal(
            "the svg has groups named for inks (Red, Navy), but the group \"Navy\" paints several colours: it is read as one picture",
            Assert.Single(art.Findings).Message
        );
    }

    [Fact]
    public async Task Names_come_from_labels_titles_and_ids_in_this_order()
    {
        var art = await Read(
            Svg(
                "<g id='g1' inkscape:groupmode='layer' inkscape:label='Red 2'>"
                    + Box("#c8102e", 5, 20)
                    + "</g>"
                    + "<g id='layer9'><title>Sky blue</title>"
                    + Box("#7db4dc", 30, 20)
                    + "</g>"
                    + "<g id='Dark_x20_green'>"
                    + Box("#1f4d33", 60, 20)
                    + "</g>"
            )
        );

        Assert.Equal(["Red 2", "Sky blue", "Dark green"], art.Layers.Select(l => l.Name));
    }

    [Fact]
    public async Task Layers_inside_the_one_group_that_holds_everything_are_found_and_keep_its_transform()
    {
        var art = await Read(
            Svg(
                "<g transform='translate(20,0)'>"
                    + Group("Red", Box("#c8102e", 0, 20))
                    + Group("Navy", Box("#1d2a5c", 40, 20))
                    + "</g>"
            )
        );

        Assert.Equal(["Red", "Navy"], art.Layers.Select(l => l.Name));
        var plane = art.Layers[0].Coverage;
        Assert.Equal(
            (0, 255),
            (plane[plane.Width * 10 / 100, plane.Height / 2], plane[plane.Width * 30 / 100, plane.Height / 2])
        );
    }

    [Fact]
    public async Task What_one_layer_borrows_from_another_is_still_drawn()
    {
        var art = await Read(
            Svg(
                "<style>#Navy rect { opacity: 0.5 }</style>"
                    + Group(
                        "Red",
                        "<defs><clipPath id='c'><rect x='40' y='0' width='10' height='50'/></clipPath></defs>"
                            + Box("#c8102e", 5, 20)
                    )
                    + $"<g id='Navy' clip-path='url(#c)'>{Box("#1d2a5c", 30, 40)}</g>"
            )
        );

        Assert.Equal(0.5 * 10 * 40 / (100 * 50), Mean(art.Layers[1]), 0.002);
        // Half opaque in eight bits, a colour is known to a code.
        Assert.Matches("^#1[cde]2[9ab]5[bcd]$", art.Layers[1].Colour!);
    }

    [Fact]
    public async Task Films_drawn_in_black_have_no_colour_and_the_picture_takes_it_from_the_names()
    {
        var art = await Read(Svg(Group("Red", Box("#000", 5, 30)) + Group("Royal blue", Box("black", 50, 30))));

        Assert.Equal([null, null], art.Layers.Select(l => l.Colour));
        Assert.Equal(Light(0xc4), art.Pixel(art.Pixels.Width * 20 / 100, art.Pixels.Height / 2)[0], 1e-3);
        Assert.Equal(Light(0x24), art.Pixel(art.Pixels.Width * 60 / 100, art.Pixels.Height / 2)[0], 1e-3);
    }

    [Fact]
    public async Task More_groups_than_a_press_has_heads_stay_flat()
    {
        var groups = string.Concat(Enumerable.Range(1, 17).Select(i => Group($"Red {i}", Box("#c8102e", 5 * i, 4))));

        var art = await Read(Svg(groups));

        Assert.Empty(art.Layers);
        Assert.Contains(
            "but it has 17 groups, 16 layers are the limit:",
            Assert.Single(art.Findings).Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Layers_refer_to_nothing_outside_the_file_either()
    {
        var secret = In("secret.png");
        await File.WriteAllBytesAsync(secret, BrokenFiles.Png(10, 10));

        var art = await Read(
            Svg(
                Group(
                    "Red",
                    Box("#c8102e", 5, 30) + $"<image x='60' y='5' width='20' height='20' href='file://{secret}'/>"
                ) + Group("Navy", Box("#1d2a5c", 40, 15))
            )
        );

        Assert.Equal(30 * 40 / 5000.0, Mean(art.Layers[0]), 0.002);
        Assert.Single(art.Findings, f => f.Code == "svg-parts-not-drawn");
    }

    /// <summary>Letters changed at random: words, a picture or layers come out, never a dead reader.</summary>
    [Fact]
    public async Task Damaged_drawings_are_refused_in_words()
    {
        var whole = await File.ReadAllBytesAsync(Harbour);
        var random = new Random(4);
        for (var round = 0; round < 20; round++)
        {
            var file = whole.ToArray();
            for (var i = 0; i < 5; i++)
                file[random.Next(100, file.Length)] = (byte)random.Next(32, 127);
            try
            {
                Assert.NotNull(await Read(file, 40));
            }
            catch (UnreadableArt no)
            {
                Assert.NotEqual("decoder-stopped", no.Code);
                Assert.NotEmpty(no.NextStep);
            }
        }
    }
}
