using System.Text;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>SVG is a program as much as a picture: only the picture is drawn (portal U7).</summary>
public sealed class SvgTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-codecs-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private static byte[] Svg(string inside, string before = "", string size = "width='100' height='50'") =>
        Encoding.UTF8.GetBytes(
            $"{before}<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' {size}>{inside}</svg>"
        );

    [Fact]
    public async Task The_inked_width_is_drawn_at_600_dpi()
    {
        // The circle is 40 of 100 units wide: 60 mm of print over 40 units.
        var art = await Read(Svg("<circle cx='50' cy='25' r='20' fill='#c81e1e'/>"), widthMm: 60);

        var wanted = 60 / 25.4 * 600;
        var row = Enumerable.Range(0, art.Pixels.Width).Count(x => art.Pixel(x, art.Pixels.Height / 2)[3] > 0.5);
        Assert.Equal(wanted, row, wanted * 0.01);
        Assert.True(art.Source.IsVector);
        Assert.Equal(Light(0xC8), art.Pixel(art.Pixels.Width / 2, art.Pixels.Height / 2)[0], 1e-4);
        Assert.Equal(0, art.Pixel(2, 2)[3]);
    }

    [Fact]
    public async Task An_svg_of_any_width_keeps_within_the_pixel_limit()
    {
        var art = await Read(Svg("<rect width='100' height='50' fill='red'/>"), widthMm: 900);

        Assert.InRange((long)art.Pixels.Width * art.Pixels.Height, 23_000_000, 24_200_000);
    }

    [SkippableFact]
    public async Task Pictures_outside_the_file_are_not_drawn_and_that_is_said()
    {
        var secret = Path.Combine(_folder, "secret.png");
        Programs.Run("convert", "-size", "10x10", "xc:blue", secret);
        var file = Svg(
            $"<image width='100' height='50' xlink:href='file://{secret}'/>"
                + "<image width='100' height='50' href='http://127.0.0.1:9/a.png'/>"
                + "<rect width='10' height='50' fill='red'/>"
        );

        var art = await Read(file);

        Assert.Equal(0, art.Pixel(art.Pixels.Width - 3, 3)[3]);
        var finding = Assert.Single(art.Findings);
        Assert.Equal("svg-parts-not-drawn", finding.Code);
        Assert.Equal(
            "2 parts of the svg were not drawn: scripts, embedded pages or references to other files",
            finding.Message
        );
        Assert.Equal(
            "embed linked pictures in the file, or confirm that the drawing is complete without them",
            finding.NextStep
        );
    }

    [Fact]
    public async Task Scripts_handlers_imports_and_embedded_pages_are_taken_out()
    {
        var file = Svg(
            "<style>@import url('http://127.0.0.1:9/x.css');</style><script>alert(1)</script>"
                + "<foreignObject width='9' height='9'><p xmlns='http://www.w3.org/1999/xhtml'>x</p></foreignObject>"
                + "<rect width='100' height='50' fill='red' onload='alert(1)'/>"
        );

        var art = await Read(file);

        Assert.Equal(4, Assert.Single(art.Findings).Measured);
        Assert.Equal(1, art.Pixel(9, 9)[0], 1e-4);
    }

    [Fact]
    public async Task Gradients_and_embedded_pictures_inside_the_file_stay()
    {
        var art = await Read(
            Svg(
                "<defs><linearGradient id='g'><stop stop-color='red'/><stop offset='1' stop-color='red'/></linearGradient></defs>"
                    + "<rect width='100' height='50' fill='url(#g)'/>"
            )
        );

        Assert.Empty(art.Findings);
        Assert.Equal(1, art.Pixel(9, 9)[0], 1e-4);
    }

    [Theory]
    [InlineData("<!DOCTYPE svg [<!ENTITY a 'b'><!ENTITY c '&a;&a;&a;&a;'>]>")]
    [InlineData("<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>")]
    public async Task Entities_are_refused_before_they_unfold(string doctype)
    {
        var no = await Refused(Svg("<rect width='9' height='9'/>", doctype));

        Assert.Equal("svg-entities", no.Code);
        Assert.Equal("the svg declares entities of its own, which can unfold without end", no.What);
        Assert.Equal("save it as plain svg (in the drawing program: without editing data) and send that", no.NextStep);
    }

    [Fact]
    public async Task A_document_type_without_entities_is_passed_over()
    {
        var art = await Read(
            Svg(
                "<rect width='100' height='50' fill='red'/>",
                "<?xml version='1.0'?><!-- made by hand --><!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN' 'http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd'>"
            )
        );

        Assert.Equal("svg", art.Source.Format);
    }

    [Fact]
    public async Task A_parse_error_says_line_and_column()
    {
        var no = await Refused(Encoding.UTF8.GetBytes("<svg xmlns='http://www.w3.org/2000/svg'>\n<rect></svg>"));

        Assert.Equal("svg-not-well-formed", no.Code);
        Assert.Equal("the svg cannot be read at line 2, column 9", no.What);
        Assert.Equal("open it in the drawing program, save it as plain svg and send that", no.NextStep);
    }

    [SkippableFact]
    public async Task Lines_of_text_are_listed_for_spelling()
    {
        var art = await Read(
            Svg(
                "<text x='5' y='10'>Ahoy <tspan font-weight='bold'>there</tspan></text>"
                    + "<text x='5' y='20'><tspan x='5' y='20'>Est.\n  1990</tspan><tspan x='5' dy='1.2em'>Harbour &amp; Sons</tspan></text>"
                    + "<g display='none'><text>not drawn</text></g>"
            )
        );

        Assert.Equal<string>(["Ahoy there", "Est. 1990", "Harbour & Sons"], art.Words);
        var finding = Assert.Single(art.Findings, f => f.Code == "text-found");
        Assert.Equal(
            "3 lines of text were found in the file: \"Ahoy there\", \"Est. 1990\", \"Harbour & Sons\"",
            finding.Message
        );
    }

    [SkippableFact]
    public async Task Text_that_is_not_outlined_is_found()
    {
        var art = await Read(Svg("<text x='5' y='40' font-size='40'>Ahoy</text>"));

        var finding = Assert.Single(art.Findings, f => f.Code == "text-not-outlined");
        Assert.Equal(
            "1 texts in the svg are drawn with the fonts of this machine, which may not be the designer's",
            finding.Message
        );
    }
}
