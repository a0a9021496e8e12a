using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs.Pdf;

/// <summary>Spot colours of a page stay apart, by name, as much as the page asks for.</summary>
public sealed class PdfSpotTests : IDisposable
{
    private const string Blue = "(Harbour Blue) 1 .5 0 0 SPOT ";
    private const string Red = "(Signal Red) 0 1 .9 0 SPOT ";

    private readonly PdfFiles _files = new();

    public void Dispose() => _files.Dispose();

    private async Task<Artwork> Drawn(string drawing, double widthMm = 80, params string[] options) =>
        await Read(_files.Distilled(drawing, "art.pdf", options), widthMm);

    private static string Said(Artwork art, string code) => art.Findings.Single(f => f.Code == code).Message;

    [SkippableFact]
    public async Task A_page_of_two_spot_colours_becomes_two_layers_by_name()
    {
        var art = await Drawn(Blue + "50 100 100 100 rectfill " + Red + "200 150 40 DISC");

        Assert.Equal(["Harbour Blue", "Signal Red"], art.Layers.Select(l => l.Name).Order());
        var page = new OnPage(art, left: 50, right: 240, top: 200);
        Assert.Equal(100.0 * 100, page.SquarePoints("Harbour Blue"), 20.0);
        Assert.Equal(Math.PI * 40 * 40, page.SquarePoints("Signal Red"), 10.0);
        Assert.Equal(("pdf", "spot", true), (art.Source.Format, art.Source.ColourModel, art.Source.IsVector));
        Assert.Equal(
            "2 spot colours are kept as plates: Harbour Blue (17.7 cm2), Signal Red (8.9 cm2)",
            Said(art, "pdf-spots-kept")
        );
        // As Ghostscript shows process colour 100/50/0/0 and 0/100/90/0 by the profile it ships.
        Assert.Equal("#0072bc", art.Layers.Single(l => l.Name == "Harbour Blue").Colour);
        Assert.Equal("#ed1b2f", art.Layers.Single(l => l.Name == "Signal Red").Colour);
    }

    [SkippableFact]
    public async Task Coverages_are_those_of_tiffsep_at_another_resolution()
    {
        var file = _files.Distilled(
            Blue
                + "0 10 200 { dup 1.4 mul 20 add exch dup 1.5 mul 40 add exch 3 div 3 add DISC } for "
                + ".35 TINT 180 60 90 40 rectfill "
                + Red
                + "4 setlinewidth 20 20 moveto 120 380 200 -50 280 380 curveto stroke "
                + "/Helvetica findfont 40 scalefont setfont 40 340 moveto (Ahoy) show "
                + "2 setlinewidth 11 11 278 378 rectstroke"
        );

        var art = await Read(file, 150);

        // Their page is whole, ours the inked part of it: both come to square points. A frame line tells the left edge of
        // the art, the edge of the page cuts the discs off at the right.
        var page = new OnPage(art, left: 10, right: 300, top: 390);
        var theirs = Tiffsep.Shares(file, 333);
        Assert.Equal(2, art.Layers.Length);
        foreach (var layer in art.Layers)
            Assert.Equal(theirs[layer.Name], page.SquarePoints(layer.Name) / (300 * 400), 0.005);
    }

    [SkippableFact]
    public async Task Half_a_tint_is_half_the_ink_and_not_a_paler_ink()
    {
        var art = await Drawn(Blue + ".5 TINT 50 100 200 200 rectfill");

        var layer = Assert.Single(art.Layers);
        Assert.Equal(128, layer.Coverage[art.Pixels.Width / 2, art.Pixels.Height / 2], 1.0);
        var pixel = art.Pixel(art.Pixels.Width / 2, art.Pixels.Height / 2);
        Assert.Equal(0.5, pixel[3], 0.01);
        // Nowhere does the colour stand solid, so its tint transform says it: process 100/50/0/0 by the usual press.
        Assert.Matches("^#0[0-9a-f][5-8][0-9a-f][a-d][0-9a-f]$", layer.Colour!);
        Assert.Equal(Light(Convert.ToInt32(layer.Colour![3..5], 16)), pixel[1], 0.01);
        Assert.Equal(0, art.Pixel(0, 0)[3]);
    }

    [SkippableFact]
    public async Task Overprint_keeps_the_colour_below_and_without_it_the_upper_knocks_out()
    {
        const string Overlap = "100 200 60 DISC ";
        var over = await Drawn(Blue + "50 100 100 200 rectfill true setoverprint " + Red + Overlap);
        var knocked = await Drawn(Blue + "50 100 100 200 rectfill " + Red + Overlap);

        var (onOver, onKnocked) = (new OnPage(over, 40, 160, 300), new OnPage(knocked, 40, 160, 300));
        Assert.Equal((255, 255), (onOver.Coverage("Harbour Blue", 100, 200), onOver.Coverage("Signal Red", 100, 200)));
        Assert.Equal(
            (0, 255),
            (onKnocked.Coverage("Harbour Blue", 100, 200), onKnocked.Coverage("Signal Red", 100, 200))
        );
        Assert.DoesNotContain(knocked.Findings, f => f.Code == "pdf-overprint-kept");
        // A disc of 60 points' radius, cut to the 100 points of the bar; its 120 points print 80 mm wide.
        var onBar = 2 * (50 * Math.Sqrt(60 * 60 - 50 * 50) + 60 * 60 * Math.Asin(50.0 / 60));
        var cm2 = onBar * Math.Pow(80.0 / 120, 2) / 100;
        Assert.Equal(cm2, over.Findings.Single(f => f.Code == "pdf-overprint-kept").Measured!.Value, 0.1);
    }

    [SkippableFact]
    public async Task Process_black_beside_spot_colours_becomes_a_plate_of_its_own()
    {
        var art = await Drawn(Blue + "50 100 100 100 rectfill 0 0 0 1 setcmykcolor 200 150 40 DISC");

        Assert.Equal(["Harbour Blue", "Black"], art.Layers.Select(l => l.Name));
        Assert.Equal("#000000", art.Layers[1].Colour);
        Assert.Equal(
            "besides spot colours the page paints process black (8.9 cm2 of the print); it became a plate named Black",
            Said(art, "pdf-black-kept")
        );
    }

    [SkippableFact]
    public async Task Process_colour_beside_spot_colours_makes_one_picture_and_that_is_said()
    {
        var art = await Drawn(Blue + "50 100 100 100 rectfill 0 1 .5 0 setcmykcolor 200 150 40 DISC");

        Assert.Empty(art.Layers);
        var finding = art.Findings.Single(f => f.Code == "pdf-spots-not-kept");
        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Equal(
            "besides 1 spot colour (Harbour Blue) the page paints process colour (magenta 4.2 %, yellow 2.1 %); it was drawn as one picture and the spot colours are not kept apart",
            finding.Message
        );
        Assert.Equal(
            "give every part of the drawing a spot colour (black may stay process black) and send the file again, or let the picture be separated anew",
            finding.NextStep
        );
    }

    [SkippableFact]
    public async Task Registration_marks_are_left_out()
    {
        var art = await Drawn(
            Blue + "50 100 100 100 rectfill " + Red + "200 150 40 DISC (All) 1 1 1 1 SPOT 10 10 30 3 rectfill"
        );

        Assert.Equal(["Harbour Blue", "Signal Red"], art.Layers.Select(l => l.Name).Order());
        // What is left is 190 x 100 points; the marks lay outside it, at the left and below.
        Assert.Equal(190.0 / 100, art.Pixels.Width / (double)art.Pixels.Height, 0.03);
        var finding = art.Findings.Single(f => f.Code == "pdf-registration-marks");
        Assert.StartsWith("parts in the registration colour All (", finding.Message, StringComparison.Ordinal);
        Assert.EndsWith(
            " mm2 of the print) would land on every plate; they were left out",
            finding.Message,
            StringComparison.Ordinal
        );
    }

    [SkippableFact]
    public async Task The_colour_None_paints_nothing_and_is_no_spot_colour()
    {
        Programs.Run("gs", "--version");
        const string Tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 1 0] /N 1 >>";
        var art = await Read(
            PdfFiles.OnePage(
                "/N cs 1 scn 0 0 50 50 re f /S cs 1 scn 60 20 80 60 re f",
                $"/Resources << /ColorSpace << /N [/Separation /None /DeviceCMYK {Tint}] /S [/Separation /Sea /DeviceCMYK {Tint}] >> >>"
            )
        );

        Assert.Equal("Sea", Assert.Single(art.Layers).Name);
        Assert.Equal(80.0 / 60, art.Pixels.Width / (double)art.Pixels.Height, 0.03);
    }

    [SkippableFact]
    public async Task A_spot_colour_that_prints_nowhere_gets_no_layer()
    {
        var art = await Drawn(Blue + "50 100 100 100 rectfill " + Red + "0 TINT 10 10 20 20 rectfill");

        Assert.Equal("Harbour Blue", Assert.Single(art.Layers).Name);
        Assert.Equal(
            "1 spot colour of the page prints nowhere and got no plate: Signal Red",
            Said(art, "pdf-spots-without-ink")
        );
    }

    [SkippableFact]
    public async Task White_painted_between_the_plates_is_cloth_and_that_is_said()
    {
        var art = await Drawn(Blue + "50 100 200 200 rectfill 0 0 0 0 setcmykcolor 150 200 60 DISC");

        Assert.Equal(0, new OnPage(art, 50, 250, 300).Coverage("Harbour Blue", 150, 200));
        var finding = art.Findings.Single(f => f.Code == "pdf-white-is-cloth");
        Assert.Equal(FindingWeight.Warning, finding.Weight);
        Assert.Equal(
            "white is painted where no plate prints (18 cm2 of the print); on paper that is paper, here it is cloth",
            finding.Message
        );
        Assert.Equal("give white that is to be printed a spot colour of its own, named White", finding.NextStep);
    }

    [SkippableFact]
    public async Task Names_come_as_the_page_spells_them()
    {
        var art = await Drawn(
            "(Gr\\303\\274n 2/3) 1 0 1 0 SPOT 10 10 50 50 rectfill (50% Teal: wash) 1 0 .5 0 SPOT 100 10 50 50 rectfill"
        );

        Assert.Equal(["50% Teal: wash", "Grün 2/3"], art.Layers.Select(l => l.Name).Order(StringComparer.Ordinal));
    }

    [SkippableFact]
    public async Task A_colour_that_never_stands_alone_is_told_by_its_tint_transform()
    {
        var art = await Drawn(Blue + "50 100 200 200 rectfill true setoverprint " + Red + "150 200 60 DISC");

        Assert.Matches(
            "^#[c-f][0-9a-f][0-4][0-9a-f][0-5][0-9a-f]$",
            art.Layers.Single(l => l.Name == "Signal Red").Colour!
        );
    }

    [SkippableFact]
    public async Task Where_only_poppler_is_there_the_page_is_one_picture_and_that_is_said()
    {
        var file = _files.Distilled(Blue + "50 100 100 100 rectfill " + Red + "200 150 40 DISC");
        var decoder = PdfDecoders.With(new(null, "/usr/bin/pdftocairo"));

        var art = await decoder.DecodeAsync(file, 80, CancellationToken.None);

        Assert.Empty(art.Layers);
        Assert.Equal(
            "the page has 2 spot colours (Harbour Blue, Signal Red), which poppler cannot keep apart; it was drawn as one picture",
            Said(art, "pdf-spots-need-ghostscript")
        );
        var page = new OnPage(art, 50, 240, 200);
        Assert.Equal((1.0, 1.0, 0.0), (page.Pixel(100, 150)[3], page.Pixel(200, 150)[3], page.Pixel(155, 150)[3]));
    }
}
