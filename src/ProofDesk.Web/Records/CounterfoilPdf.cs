using System.Globalization;
using ProofDesk.Adapters.Documents;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Records;

/// <summary>
/// The record of a decision on one page: what was shown, what was said, and what proves it. The square code is the log's checkpoint
/// itself, so that a sheet of paper in a drawer still shows which log it stood in.
/// </summary>
internal static class CounterfoilPdf
{
    public const int PicturePixels = 900;

    private const double Margin = 14;
    private const double Square = 42;

    /// <summary>A sentence that was signed is never cut; more than this of it goes to smaller type.</summary>
    private const int LongStatement = 1400;

    private static readonly PdfText Tiny = new(6.5, Hex: "#4b5259");

    public static byte[] Write(RecordPage page, byte[] picture, PaperSize paper)
    {
        var order = page.Read.Order;
        using var sheet = new PdfSheet(
            paper,
            $"Record of order {order.Number}, version {page.Read.Version.Number}",
            order.Shop,
            page.Decision.At
        );
        var width = paper.WidthMm - 2 * Margin;
        var y = Head(sheet, page, width);
        var middle = Math.Max(
            Shown(sheet, page, picture, y, Margin, width * 0.47),
            Said(sheet, page, y, Margin + width * 0.53, width * 0.47)
        );
        var bottom = paper.HeightMm - Margin;
        var proof = bottom - Square - 9;
        Screens(sheet, page, middle + 2, width, proof - 3);
        Proof(sheet, page, proof, width);
        return sheet.Save();
    }

    private static double Head(PdfSheet sheet, RecordPage page, double width)
    {
        var order = page.Read.Order;
        var y = Margin;
        y += sheet.Write(
            sheet.Cut(
                $"{order.Shop}. Order {order.Number} {order.Title}, version {page.Read.Version.Number}",
                PdfText.Soft,
                width
            ),
            PdfText.Soft,
            Margin,
            y,
            width
        );
        y += sheet.Write(RecordPage.Who(page.Decision), PdfText.Head, Margin, y, width);
        y += sheet.Write($"{Words.Moment(page.Decision.At)}. {Standing(page)}", PdfText.Body, Margin, y, width);
        y += 1.5;
        sheet.Line(Margin, y, Margin + width, y, PdfStroke.Strong);
        return y + 3;
    }

    private static string Standing(RecordPage page) =>
        !page.IsEffective ? "This decision does not stand any more."
        : page.Record.DisputedSince is { } since ? $"Disputed since {Words.Moment(since)}."
        : "This decision stands.";

    private static double Shown(PdfSheet sheet, RecordPage page, byte[] picture, double y, double x, double width)
    {
        var summary = page.Read.Summary;
        // A long list of screens takes room from the picture, never a second page.
        var pictureMm =
            (summary.Prints.Sum(p => p.Plates.Length) > 8 ? 60.0 : 84) - (sheet.Paper == PaperSize.Letter ? 16 : 0);
        var order = page.Read.Order;
        y += sheet.Write("Shown", PdfText.Lead, x, y, width) + 1;
        // The grey a picture lies on, L* 50.
        sheet.Fill(x, y, width, pictureMm + 4, "#777777");
        sheet.Picture(picture, x + 2, y + 2, width - 4, pictureMm);
        y += pictureMm + 5.5;
        y = Slip(sheet, x, y, width, "Client", order.Client);
        y = Slip(
            sheet,
            x,
            y,
            width,
            "Garments",
            $"{Words.Count(order.Pieces, "piece", "pieces")} on {string.Join(", ", summary.Prints[0].Grounds.Select(g => g.Colour))}"
        );
        foreach (var print in summary.Prints)
            y = Slip(
                sheet,
                x,
                y,
                width,
                sheet.Cut(print.Name, PdfText.Soft, 21),
                $"{print.Place}, {Words.Length(print.WidthMm)} wide, {Words.Length(print.FromSeamMm)} from the seam"
            );
        return y;
    }

    private static double Said(PdfSheet sheet, RecordPage page, double y, double x, double width)
    {
        var d = page.Decision;
        y += sheet.Write("Said", PdfText.Lead, x, y, width) + 1;
        if (page.Statement.Evidence.Elsewhere is { } elsewhere)
        {
            y = Slip(sheet, x, y, width, "By", $"{Words.Name(d)}, as staff was told");
            y = Slip(
                sheet,
                x,
                y,
                width,
                "Given elsewhere",
                $"{elsewhere.How}, on {Words.Day(DateOnly.FromDateTime(elsewhere.At.UtcDateTime))}; written down by {elsewhere.Staff}"
            );
        }
        else
        {
            y = Slip(sheet, x, y, width, "By", Words.Name(d));
            y = Slip(sheet, x, y, width, "Invited", Words.Kept(d.Recipient));
        }
        y = Slip(sheet, x, y, width, "What", RecordPage.Word(d.Kind));
        y = Slip(sheet, x, y, width, "When", Words.Moment(d.At));
        y = Slip(sheet, x, y, width, "Evidence", RecordPage.Word(d.EvidenceLevel));
        if (d.Flags.Length > 0)
            y = Slip(sheet, x, y, width, "Signs of a machine", RobotSigns.Say(d.Flags.Split(' ')));
        y += 1;
        foreach (var text in Statement(page))
        {
            var type = text.Length > LongStatement ? Tiny : PdfText.Soft;
            y += sheet.Write(text, type, x, y, width) + 1;
        }
        return y;
    }

    private static IEnumerable<string> Statement(RecordPage page)
    {
        var d = page.Decision;
        if (d.Kind == DecisionKind.Approve)
        {
            yield return d.StatementText;
            if (page.Statement.Comment is { } remark)
                yield return $"Remark: {remark}";
        }
        else if (d.Kind == DecisionKind.Changes)
        {
            yield return RecordPage.Said(d);
        }
        else
        {
            yield return "The answer given before on this version does not stand any more.";
        }
    }

    /// <summary>Plates and inks: as many as there is room for, and how many more the packet holds.</summary>
    private static void Screens(PdfSheet sheet, RecordPage page, double top, double width, double bottom)
    {
        const double Row = 4.6;
        double[] at = [0, 0.14, 0.2, 0.56, 0.68, 0.76];
        string[] names = ["Print", "Screen", "Ink", "Mesh", "Covers", "Digest of the film's image"];
        var rows = page
            .Read.Summary.Prints.SelectMany(p => p.Plates.Select(plate => (Print: p, Plate: plate)))
            .ToList();
        var room = (int)Math.Floor((bottom - top - 5) / Row);
        if (room < 2)
            return;
        for (var i = 0; i < names.Length; i++)
            sheet.Write(names[i], Tiny, Margin + at[i] * width, top, 60);
        var y = top + 3.6;
        sheet.Line(Margin, y, Margin + width, y, PdfStroke.Hair);
        y += 0.5;
        foreach (var (print, plate) in rows.Take(rows.Count > room ? room - 1 : room))
        {
            void Cell(int column, string words) =>
                sheet.Write(
                    sheet.Cut(
                        words,
                        PdfText.Soft,
                        ((column + 1 < at.Length ? at[column + 1] : 1) - at[column]) * width - 1
                    ),
                    PdfText.Soft,
                    Margin + at[column] * width,
                    y,
                    200
                );
            Cell(0, print.Name);
            Cell(1, plate.Screen.ToString(CultureInfo.InvariantCulture));
            sheet.Fill(Margin + at[2] * width, y + 0.7, 2.4, 2.4, plate.Hex);
            sheet.Box(Margin + at[2] * width, y + 0.7, 2.4, 2.4, PdfStroke.Hair);
            sheet.Write(
                sheet.Cut($"{plate.Ink}, {plate.Purpose}", PdfText.Soft, (at[3] - at[2]) * width - 5),
                PdfText.Soft,
                Margin + at[2] * width + 3.6,
                y,
                200
            );
            Cell(3, plate.Mesh);
            Cell(4, FormattableString.Invariant($"{plate.CoveragePercent:0.0} %"));
            Cell(5, Words.Digest(plate.Sha256[..16]));
            y += Row;
        }
        if (rows.Count > room)
            sheet.Write(
                $"and {Words.Count(rows.Count - room + 1, "screen", "screens")} more: the packet and the record's page list all of them",
                PdfText.Soft,
                Margin,
                y,
                width
            );
    }

    private static void Proof(PdfSheet sheet, RecordPage page, double top, double width)
    {
        var d = page.Decision;
        sheet.Line(Margin, top, Margin + width, top, PdfStroke.Strong);
        var y = top + 2;
        sheet.Square(page.Proof.CheckpointNote, Margin + width - Square, y, Square);
        sheet.Write("Checkpoint of the log", Tiny, Margin + width - Square, y + Square, Square, PdfAlign.Centre);
        var room = width - Square - 5;
        y = Slip(sheet, Margin, y, room, "Manifest", Words.Digest(d.ManifestSha256));
        y = Slip(sheet, Margin, y, room, "Statement", Words.Digest(d.StatementSha256));
        y = Slip(sheet, Margin, y, room, "Log entry", d.LeafIndex.ToString("#,0", CultureInfo.InvariantCulture));
        y = Slip(sheet, Margin, y, room, "Key of the log", page.VerifierKey);
        sheet.Write(
            (
                page.Decision.IsErased
                    ? "The personal data of this decision was erased; its entry in the log stays. "
                    : ""
            )
                + "The packet proves all of this without us: proofdesk verify, or the page verify.html that needs no network. "
                + "A sign-off of this kind shows what was said through a mailed link, not who sat at the screen.",
            Tiny,
            Margin,
            y + 0.6,
            room
        );
    }

    private static double Slip(PdfSheet sheet, double x, double y, double width, string name, string value)
    {
        const double Names = 22;
        sheet.Write(sheet.Cut(name, PdfText.Soft, Names), PdfText.Soft, x, y + 0.3, 60);
        var height = sheet.Write(value, PdfText.Body, x + Names, y, width - Names);
        y += Math.Max(height, PdfText.Body.LineMm) + 0.5;
        sheet.Line(x, y, x + width, y, PdfStroke.Hair);
        return y + 0.5;
    }
}
