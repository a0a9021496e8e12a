using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs.Pdf;

/// <summary>What a page is and holds: its box, its size, its fonts, its words.</summary>
public sealed class PdfPageTests : IDisposable
{
    private const string RedDisc = "1 0 0 rg 60 20 80 60 re f";

    private readonly PdfFiles _files = new();

    public void Dispose() => _files.Dispose();

    private static Finding Said(Artwork art, string code) => art.Findings.Single(f => f.Code == code);

    [SkippableFact]
    public async Task A_page_of_process_colours_is_one_picture_transparent_where_nothing_is_painted()
    {
        var art = await Read(PdfFiles.OnePage(RedDisc + " 1 g 90 40 20 20 re f"), 60);

        Assert.Empty(art.Layers);
        Assert.Equal(
            ("pdf", "rgb", true, true),
            (art.Source.Format, art.Source.ColourModel, art.Source.HasAlpha, art.Source.IsVector)
        );
        var page = new OnPage(art, left: 60, right: 140, top: 80);
        Assert.Equal([1.0, 0, 0, 1], page.Pixel(70, 50));
        // White that is painted is white ink; the bare page is not.
        Assert.Equal([1.0, 1, 1, 1], page.Pixel(100, 50));
        Assert.Equal(0, art.Pixel(0, 0)[3]);
        // 80 of 200 points are 60 mm of print.
        Assert.Equal(60 / 25.4 * 600 / 80, page.PixelsPerPoint, 60 / 25.4 * 600 / 80 * 0.01);
    }

    [SkippableFact]
    public async Task A_small_drawing_on_a_large_sheet_gets_all_the_pixels()
    {
        // 30 of 2000 points, printed 200 mm wide: drawn with the whole sheet it would have 73 px.
        var art = await Read(PdfFiles.OnePage("1 0 0 rg 1500 400 30 10 re f", media: "[0 0 2000 2000]"), 200);

        Assert.Equal(200 / 25.4 * 600, new OnPage(art, 1500, 1530, 410).PixelsPerPoint * 30, 200 / 25.4 * 600 * 0.02);
    }

    [SkippableFact]
    public async Task A_page_in_larger_units_is_larger()
    {
        var art = await Read(PdfFiles.OnePage(RedDisc, "/UserUnit 3"), 60);

        Assert.StartsWith(
            "the page is 211.7 x 105.8 mm ",
            Said(art, "pdf-page-size").Message,
            StringComparison.Ordinal
        );
        Assert.Equal([1.0, 0, 0, 1], new OnPage(art, 60, 140, 80).Pixel(135, 25));
    }

    [SkippableFact]
    public async Task The_size_of_the_page_and_of_the_print_stand_side_by_side()
    {
        var art = await Read(PdfFiles.OnePage(RedDisc), 60);

        Assert.Equal(
            "the page is 70.6 x 35.3 mm (2.78 x 1.39 in) in its media box; what is drawn on it is 28.2 mm wide and printed 60 mm wide, at 213 %",
            Said(art, "pdf-page-size").Message
        );
        Assert.Equal(
            "nothing, if 60 mm is the width that is wanted; at the size of the page it would be 28.2 mm",
            Said(art, "pdf-page-size").NextStep
        );
        Assert.Matches(
            @"^the whole page is used, because it has no trim box, art box or crop box; it was drawn at 600 dpi of the print by Ghostscript \d+\.[\d.]+$",
            Said(art, "pdf-page-box").Message
        );
    }

    [SkippableTheory]
    [InlineData(
        "/TrimBox [50 10 150 90] /ArtBox [0 0 20 20] /CropBox [10 0 190 100]",
        "the trim box of the page is used: what lies outside the finished size is not drawn",
        80,
        60
    )]
    [InlineData(
        "/ArtBox [50 10 150 90] /BleedBox [0 0 190 100]",
        "the art box of the page is used, because it has no trim box: what lies outside it is not drawn",
        80,
        60
    )]
    [InlineData(
        "/CropBox [50 10 150 90]",
        "the crop box of the page is used, because it has neither trim box nor art box",
        80,
        60
    )]
    [InlineData(
        "/BleedBox [50 10 150 90]",
        "the whole page is used, because it has no trim box, art box or crop box",
        200,
        100
    )]
    [InlineData(
        "/TrimBox [50 -30 250 90]",
        "the trim box of the page is used: what lies outside the finished size is not drawn",
        80,
        60
    )]
    [InlineData(
        "/TrimBox [300 300 400 400]",
        "the whole page is used, because it has no trim box, art box or crop box",
        200,
        100
    )]
    [InlineData(
        "/TrimBox [150 90 50 10]",
        "the trim box of the page is used: what lies outside the finished size is not drawn",
        80,
        60
    )]
    [InlineData(
        "/TrimBox [50 10 150 90] /Rotate 90",
        "the trim box of the page is used: what lies outside the finished size is not drawn",
        60,
        80
    )]
    public async Task The_finished_size_is_the_art_and_the_choice_is_said(
        string boxes,
        string said,
        double width,
        double height
    )
    {
        // Marks in the corners of the paper, and the drawing in the middle.
        var art = await Read(PdfFiles.OnePage("0 0 5 5 re f 195 95 5 5 re f " + RedDisc, boxes), 60);

        Assert.StartsWith(said + "; it was drawn at ", Said(art, "pdf-page-box").Message, StringComparison.Ordinal);
        Assert.Equal(width / height, art.Pixels.Width / (double)art.Pixels.Height, 0.03);
    }

    [SkippableTheory]
    [InlineData("")]
    [InlineData("/TrimBox [50 10 150 90]")]
    [InlineData("/TrimBox [50 10 150 80] /Rotate 90")]
    [InlineData("/TrimBox [50 20 150 90] /Rotate 180")]
    [InlineData("/CropBox [40 10 150 90] /Rotate 270")]
    public async Task Poppler_and_Ghostscript_draw_the_same_part_of_the_page(string boxes)
    {
        var file = PdfFiles.OnePage("0 0 5 5 re f 195 95 5 5 re f " + RedDisc + " 0 1 0 rg 60 20 20 10 re f", boxes);

        var one = await Read(file, 60);
        var other = await PdfDecoders
            .With(new(null, "/usr/bin/pdftocairo"))
            .DecodeAsync(new MemoryStream(file), 60, CancellationToken.None);

        Assert.Matches(@"by poppler \d+\.[\d.]+$", Said(other, "pdf-page-box").Message);
        Assert.Equal(one.Pixels.Width, other.Pixels.Width, 3.0);
        Assert.Equal(one.Pixels.Height, other.Pixels.Height, 3.0);
        foreach (var (x, y) in new[] { (0.2, 0.3), (0.5, 0.5), (0.1, 0.93), (0.34, 0.74), (0.8, 0.2), (0.66, 0.62) })
            Assert.Equal(Near(one, x, y), Near(other, x, y));
    }

    private static double[] Near(Artwork art, double x, double y)
    {
        var pixel = art.Pixel((int)(x * art.Pixels.Width), (int)(y * art.Pixels.Height));
        // Of what is not there the colour does not matter.
        return [.. pixel.Select(v => Math.Round(v * pixel[3], 1))];
    }

    [SkippableFact]
    public async Task A_page_of_several_is_chosen_and_the_others_are_named()
    {
        Programs.Run("gs", "--version");
        var file = PdfFiles.Raw(
            "<< /Type /Catalog /Pages 2 0 R >>",
            "<< /Type /Pages /Kids [3 0 R 5 0 R] /Count 2 /MediaBox [0 0 200 100] >>",
            "<< /Type /Page /Parent 2 0 R /Contents 4 0 R >>",
            PdfFiles.Stream("1 0 0 rg 60 20 80 60 re f"),
            "<< /Type /Page /Parent 2 0 R /Contents 6 0 R >>",
            PdfFiles.Stream("0 0 1 rg 60 20 80 60 re f")
        );
        var decoder = new ArtDecoder();

        var first = await Read(file);
        var second = await decoder.DecodeAsync(
            new MemoryStream(file),
            new ArtWish(100) { Page = 2 },
            CancellationToken.None
        );
        var no = await Assert.ThrowsAsync<UnreadableArt>(() =>
            decoder.DecodeAsync(new MemoryStream(file), new ArtWish(100) { Page = 3 }, CancellationToken.None)
        );

        Assert.Equal("the pdf has 2 pages; page 1 is used", Said(first, "pdf-one-page-used").Message);
        Assert.Equal("the pdf has 2 pages; page 2 is used", Said(second, "pdf-one-page-used").Message);
        Assert.Equal(1, second.Pixel(second.Pixels.Width / 2, second.Pixels.Height / 2)[2], 1e-3);
        Assert.Equal((1, 2), (first.Source.Page, second.Source.Page));
        Assert.Equal(
            ("pdf-no-such-page", "page 3 was asked for; the pdf has 2 pages", "ask for a page from 1 to 2"),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task Fonts_that_are_not_embedded_are_named()
    {
        const string Text = "/Helvetica findfont 60 scalefont setfont 20 200 moveto (Ahoy) show";
        var embedded = await Read(_files.Distilled(Text, "a.pdf", "-dPDFSETTINGS=/prepress"));
        var missing = await Read(_files.Distilled(Text, "b.pdf"));

        Assert.DoesNotContain(embedded.Findings, f => f.Code == "pdf-fonts-not-embedded");
        Assert.StartsWith(
            "1 font is embedded in the pdf: ",
            Said(embedded, "pdf-fonts-embedded").Message,
            StringComparison.Ordinal
        );
        var finding = Said(missing, "pdf-fonts-not-embedded");
        Assert.Equal("1 font is not embedded in the pdf and drawn with others: Helvetica", finding.Message);
        Assert.Equal(
            "embed all fonts or convert text to outlines and send the file again: with other fonts letters can move, change or go missing",
            finding.NextStep
        );
    }

    [SkippableFact]
    public async Task The_words_of_the_page_are_listed_in_reading_order()
    {
        var art = await Read(
            _files.Distilled(
                "/Helvetica findfont 24 scalefont setfont 40 100 moveto (Est. 1990) show "
                    + "40 300 moveto (Harbour Rowing Club) show 40 270 moveto (Summer regatta) show"
            )
        );

        Assert.Equal<string>(["Harbour Rowing Club", "Summer regatta", "Est. 1990"], art.Words);
        var finding = Said(art, "text-found");
        Assert.Equal(
            "3 lines of text were found in the file: \"Harbour Rowing Club\", \"Summer regatta\", \"Est. 1990\"",
            finding.Message
        );
        Assert.Equal(
            "read every line letter by letter; text drawn as outlines or inside pictures is not found",
            finding.NextStep
        );
    }

    [SkippableFact]
    public async Task Words_outside_the_trim_box_and_words_nobody_sees_are_not_listed()
    {
        const string Font = "/Resources << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>";
        var art = await Read(
            PdfFiles.OnePage(
                "BT /F 12 Tf 60 50 Td (Seen) Tj ET BT /F 8 Tf 5 5 Td (job 77) Tj ET BT 3 Tr /F 12 Tf 60 70 Td (Hidden) Tj ET",
                Font + " /TrimBox [50 10 150 90]"
            )
        );

        Assert.Equal<string>(["Seen"], art.Words);
    }

    [SkippableFact]
    public async Task A_picture_placed_with_too_few_pixels_is_measured_at_the_size_of_the_print()
    {
        const string Picture =
            "q 144 0 0 72 20 20 cm BI /W 4 /H 2 /CS /G /BPC 8 ID \x01\x20\x40\x60\x80\xA0\xC0\xF0 EI Q";
        var art = await Read(PdfFiles.OnePage(Picture), 144 / 72.0 * 25.4);

        var finding = Said(art, "pdf-picture-coarse");
        Assert.Equal(
            "1 picture placed on the page is coarse at this size: 4 x 2 px come to 2 dpi, screen print needs 150",
            finding.Message
        );
        Assert.Equal("place pictures with more pixels, or print smaller", finding.NextStep);
    }

    [SkippableFact]
    public async Task Scripts_attachments_comments_and_hidden_layers_are_passed_over_and_named()
    {
        var art = await Read(
            PdfFiles.OnePage(
                RedDisc + " /OC /L BDC 0 0 1 rg 60 20 80 60 re f EMC",
                "/Annots [5 0 R] /Resources << /Properties << /L 6 0 R >> >>",
                "/OpenAction << /S /JavaScript /JS (app.alert(1)) >> /Names << /JavaScript << /Names [] >> /EmbeddedFiles << /Names [] >> >> "
                    + "/OCProperties << /OCGs [6 0 R] /D << /OFF [6 0 R] >> >>",
                "[0 0 200 100]",
                "<< /Type /Annot /Subtype /Square /Rect [60 20 140 80] /C [0 1 0] /IC [0 1 0] /AP << /N 7 0 R >> >>",
                "<< /Type /OCG /Name (notes) >>",
                PdfFiles.Stream("0 1 0 rg 0 0 80 60 re f", "/Type /XObject /Subtype /Form /BBox [0 0 80 60]")
            )
        );

        Assert.Equal(
            "the pdf carries scripts or actions, and other files; they were neither run nor opened",
            Said(art, "pdf-extras-ignored").Message
        );
        Assert.Equal(
            "1 comment, link or form field on the page was not drawn",
            Said(art, "pdf-notes-not-drawn").Message
        );
        Assert.Equal("1 layer of the pdf is switched off and not drawn", Said(art, "pdf-layers-off").Message);
        Assert.Equal(
            [1.0, 0, 0, 1],
            art.Pixel(art.Pixels.Width / 2, art.Pixels.Height / 2).Select(v => Math.Round(v, 3))
        );
    }

    [SkippableFact]
    public async Task Transparency_and_overprint_of_a_page_without_spot_colours_are_named()
    {
        var art = await Read(
            PdfFiles.OnePage(
                "/T gs " + RedDisc + " /O gs 0 1 0 rg 60 20 40 60 re f",
                "/Resources << /ExtGState << /T << /ca .5 >> /O << /OP true /op true >> >> >>"
            )
        );

        Assert.Equal(
            "the page uses transparency (1 graphics state or picture); it was flattened when the page was drawn",
            Said(art, "pdf-transparency").Message
        );
        Assert.Equal(
            "overprint is set on the page (1 graphics state); a page drawn as one picture shows the upper colour alone",
            Said(art, "pdf-overprint-not-drawn").Message
        );
        Assert.Equal(0.5, art.Pixel(art.Pixels.Width * 6 / 10, art.Pixels.Height / 2)[3], 0.01);
    }

    [SkippableFact]
    public async Task A_page_made_by_a_drawing_library_is_read_with_its_painted_background()
    {
        var made = _files.Path("cairo.pdf");
        Programs.Run(
            "pdftocairo",
            "-pdf",
            _files.Distilled("1 1 1 setrgbcolor 0 0 300 400 rectfill 0.04 0.49 0.235 setrgbcolor 150 200 80 DISC"),
            made
        );

        var art = await Read(made);

        Assert.Empty(art.Layers);
        Assert.Equal([1.0, 1, 1, 1], art.Pixel(5, 5).Select(v => Math.Round(v, 3)));
        Assert.Equal(Light(0x7d), art.Pixel(art.Pixels.Width / 2, art.Pixels.Height / 2)[1], 0.01);
    }
}
