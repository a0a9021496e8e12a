using System.Globalization;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>What is said about a page, in the words people read.</summary>
internal static class PdfFindings
{
    /// <summary>Screen print needs this many pixels per inch at size (as for other pictures; common practice).</summary>
    private const double NeededDpi = 150;

    /// <param name="inkedPoints">Width of what is drawn on the page.</param>
    public static IEnumerable<Finding> Page(
        PdfPage page,
        double inkedPoints,
        double printWidthMm,
        double dpi,
        string drawnBy
    )
    {
        var (width, height) = (
            PdfInspection.Millimetres(page.WidthPoints),
            PdfInspection.Millimetres(page.HeightPoints)
        );
        var inked = PdfInspection.Millimetres(inkedPoints);
        var scale = 100 * printWidthMm / inked;
        yield return new(
            "pdf-page-size",
            FindingWeight.Note,
            Text(
                $"the page is {width:0.#} x {height:0.#} mm ({width / 25.4:0.##} x {height / 25.4:0.##} in) in its {page.Box.Name} box; what is drawn on it is {inked:0.#} mm wide and printed {printWidthMm:0.#} mm wide, at {scale:0} %"
            ),
            Math.Abs(scale - 100) < 1
                ? "nothing, the page has the size of the print"
                : Text(
                    $"nothing, if {printWidthMm:0.#} mm is the width that is wanted; at the size of the page it would be {inked:0.#} mm"
                ),
            Math.Round(scale),
            100,
            "%"
        );
        yield return new(
            "pdf-page-box",
            FindingWeight.Note,
            page.Box.Name switch
            {
                "trim" => "the trim box of the page is used: what lies outside the finished size is not drawn",
                "art" =>
                    "the art box of the page is used, because it has no trim box: what lies outside it is not drawn",
                "crop" => "the crop box of the page is used, because it has neither trim box nor art box",
                _ => "the whole page is used, because it has no trim box, art box or crop box",
            } + Text($"; it was drawn at {dpi:0} dpi of the print by {drawnBy}"),
            "nothing, if the proof shows the whole drawing and no printer's marks"
        );
        if (page.Of > 1)
            yield return new(
                "pdf-one-page-used",
                FindingWeight.Warning,
                $"the pdf has {page.Of} pages; page {page.Number} is used",
                "choose another page (on the command line: --page N), or send the others as files of their own",
                page.Of,
                1,
                "pages"
            );
    }

    public static IEnumerable<Finding> Contents(PdfPage page)
    {
        var uses = page.Uses;
        if (uses.MissingFonts.Count > 0)
            yield return new(
                "pdf-fonts-not-embedded",
                FindingWeight.Warning,
                $"{Count(uses.MissingFonts.Count, "font is", "fonts are")} not embedded in the pdf and drawn with others: {List(uses.MissingFonts)}",
                "embed all fonts or convert text to outlines and send the file again: with other fonts letters can move, change or go missing",
                uses.MissingFonts.Count,
                0,
                "fonts"
            );
        if (uses.EmbeddedFonts.Count > 0)
            yield return new(
                "pdf-fonts-embedded",
                FindingWeight.Note,
                $"{Count(uses.EmbeddedFonts.Count, "font is", "fonts are")} embedded in the pdf: {List(uses.EmbeddedFonts)}",
                "nothing, the letters are the designer's",
                uses.EmbeddedFonts.Count,
                null,
                "fonts"
            );
        if (!page.TextRead)
            yield return new(
                "pdf-text-unread",
                FindingWeight.Warning,
                "the text of the page could not be read; it is drawn, but not listed for spelling",
                "write the words of the art down by hand and compare them with the proof"
            );
        if (uses.TransparentStates > 0)
            yield return new(
                "pdf-transparency",
                FindingWeight.Note,
                $"the page uses transparency ({Count(uses.TransparentStates, "graphics state or picture", "graphics states or pictures")}); it was flattened when the page was drawn",
                "compare soft edges and shadows in the proof with the design",
                uses.TransparentStates
            );
        var extras = page.Extras;
        if (extras.Scripts || extras.Attachments)
            yield return new(
                "pdf-extras-ignored",
                FindingWeight.Note,
                $"the pdf carries {(extras.Scripts && extras.Attachments ? "scripts or actions, and other files" : extras.Scripts ? "scripts or actions" : "other files")}; they were neither run nor opened",
                "nothing, if the drawing is complete without them"
            );
        if (extras.Notes > 0)
            yield return new(
                "pdf-notes-not-drawn",
                FindingWeight.Note,
                $"{Count(extras.Notes, "comment, link or form field", "comments, links or form fields")} on the page {(extras.Notes == 1 ? "was" : "were")} not drawn",
                "make them part of the drawing if they are to be printed",
                extras.Notes
            );
        if (extras.HiddenLayers > 0)
            yield return new(
                "pdf-layers-off",
                FindingWeight.Note,
                $"{Count(extras.HiddenLayers, "layer", "layers")} of the pdf {(extras.HiddenLayers == 1 ? "is" : "are")} switched off and not drawn",
                "switch them on and send the file again if they are to be printed",
                extras.HiddenLayers,
                null,
                "layers"
            );
    }

    /// <param name="scale">Print by page: 2 when it is printed twice as wide.</param>
    public static IEnumerable<Finding> Pictures(PdfPage page, double scale)
    {
        var coarse = page
            .Pictures.Where(p => p is { Columns: > 0, Rows: > 0, WidthPoints: > 0, HeightPoints: > 0 })
            .Select(p => (Picture: p, Dpi: Math.Min(p.Columns / p.WidthPoints, p.Rows / p.HeightPoints) * 72 / scale))
            .Where(p => p.Dpi < NeededDpi * 0.99)
            .OrderBy(p => p.Dpi)
            .ToList();
        if (coarse.Count == 0)
            yield break;
        var (worst, dpi) = coarse[0];
        yield return new(
            "pdf-picture-coarse",
            FindingWeight.Warning,
            Text(
                $"{Count(coarse.Count, "picture", "pictures")} placed on the page {(coarse.Count == 1 ? "is" : "are")} coarse at this size: {worst.Columns} x {worst.Rows} px come to {dpi:0} dpi, screen print needs {NeededDpi:0}"
            ),
            "place pictures with more pixels, or print smaller",
            Math.Round(dpi),
            NeededDpi,
            "dpi"
        );
    }

    /// <param name="squareMm">Of the print, a pixel.</param>
    public static Finding SpotsKept(IReadOnlyList<PdfPlane> spots, double squareMm) =>
        new(
            "pdf-spots-kept",
            FindingWeight.Note,
            Text(
                $"{Count(spots.Count, "spot colour is", "spot colours are")} kept as {(spots.Count == 1 ? "a plate" : "plates")}: {string.Join(", ", spots.Select(s => Text($"{s.Name} ({s.Solid * squareMm / 100:0.#} cm2)")))}"
            ),
            "compare the names with the inks that are to be printed",
            spots.Count,
            null,
            "inks"
        );

    public static Finding BlackKept(PdfPlane black, double squareMm) =>
        new(
            "pdf-black-kept",
            FindingWeight.Note,
            Text(
                $"besides spot colours the page paints process black ({black.Solid * squareMm / 100:0.#} cm2 of the print); it became a plate named Black"
            ),
            "nothing, if black is one of the inks; otherwise give those parts one of the spot colours",
            Math.Round(black.Solid * squareMm / 100, 1),
            null,
            "cm2"
        );

    public static Finding SpotsNotKept(IReadOnlyList<PdfPlane> spots, IReadOnlyList<PdfPlane> process) =>
        new(
            "pdf-spots-not-kept",
            FindingWeight.Warning,
            Text(
                $"besides {Count(spots.Count, "spot colour", "spot colours")} ({string.Join(", ", spots.Select(s => s.Name))}) the page paints process colour ({string.Join(", ", process.Select(p => Text($"{p.Name.ToLowerInvariant()} {100 * p.Share:0.0} %")))}); it was drawn as one picture and the spot colours are not kept apart"
            ),
            "give every part of the drawing a spot colour (black may stay process black) and send the file again, or let the picture be separated anew",
            Math.Round(100 * process.Max(p => p.Share), 1),
            0,
            "%"
        );

    public static Finding SpotsUnprinted(IReadOnlyList<string> names) =>
        new(
            "pdf-spots-without-ink",
            FindingWeight.Note,
            $"{Count(names.Count, "spot colour", "spot colours")} of the page {(names.Count == 1 ? "prints" : "print")} nowhere and {(names.Count == 1 ? "got no plate" : "got no plates")}: {List(names)}",
            "nothing, if the drawing is complete without them",
            names.Count,
            null,
            "inks"
        );

    public static Finding SpotsNeedGhostscript(IReadOnlyList<string> names) =>
        new(
            "pdf-spots-need-ghostscript",
            FindingWeight.Warning,
            $"the page has {Count(names.Count, "spot colour", "spot colours")} ({List(names)}), which poppler cannot keep apart; it was drawn as one picture",
            "install ghostscript on this machine and read the file again, or let the picture be separated anew",
            names.Count,
            0,
            "inks"
        );

    public static Finding MarksLeftOut(double squareMm) =>
        new(
            "pdf-registration-marks",
            FindingWeight.Warning,
            Text(
                $"parts in the registration colour All ({squareMm:0} mm2 of the print) would land on every plate; they were left out"
            ),
            "nothing, the films have marks of their own; give parts that are to be printed one of the spot colours",
            Math.Round(squareMm),
            0,
            "mm2"
        );

    public static Finding MarksDrawn() =>
        new(
            "pdf-registration-colour",
            FindingWeight.Warning,
            "the page uses the registration colour All; what is painted with it was drawn as black",
            "take printer's marks off the page, or set its trim box so that they lie outside"
        );

    public static Finding WhiteIsCloth(double squareMm, bool aroundAll) =>
        new(
            "pdf-white-is-cloth",
            aroundAll ? FindingWeight.Note : FindingWeight.Warning,
            Text(
                $"white is painted where no plate prints ({squareMm / 100:0.#} cm2 of the print{(aroundAll ? ", its background included" : "")}); on paper that is paper, here it is cloth"
            ),
            "give white that is to be printed a spot colour of its own, named White",
            Math.Round(squareMm / 100, 1),
            null,
            "cm2"
        );

    public static Finding Overprint(int states, double squareMm) =>
        new(
            "pdf-overprint-kept",
            FindingWeight.Note,
            Text(
                $"overprint is set on the page ({Count(states, "graphics state", "graphics states")}) and kept: two or more plates print on each other on {squareMm / 100:0.#} cm2 of the print"
            ),
            "look at the overlaps in the proof: opaque ink on ink shows the upper one, thin ink mixes",
            Math.Round(squareMm / 100, 1),
            null,
            "cm2"
        );

    public static Finding OverprintNotDrawn(int states) =>
        new(
            "pdf-overprint-not-drawn",
            FindingWeight.Warning,
            $"overprint is set on the page ({Count(states, "graphics state", "graphics states")}); a page drawn as one picture shows the upper colour alone",
            "give the overprinting parts spot colours, or flatten overprint in the program that made the file",
            states
        );

    private static string Count(int count, string one, string many) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}");

    private static string List(IReadOnlyCollection<string> names) =>
        string.Join(", ", names.Take(10)) + (names.Count > 10 ? $" and {names.Count - 10} more" : "");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
