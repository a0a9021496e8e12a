using ProofDesk.Adapters.Documents;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Tickets;

/// <summary>The tickets of a version as PDF: one page a print, whatever stands on it.</summary>
internal static class TicketPdf
{
    public const int PicturePixels = 600;

    private const double Margin = 12;
    private const double RowMm = 6.4;

    private static readonly PdfStroke Cloth = new(0.25, "#4b5259");
    private static readonly PdfStroke Seam = new(0.12, "#82878b");
    private static readonly PdfStroke Tape = new(0.35, "#9c1f24");
    private static readonly PdfStroke Middle = new(0.15, "#82878b", IsDashed: true);

    public static byte[] Write(TicketSet set, IReadOnlyDictionary<string, byte[]> pictures, PaperSize paper)
    {
        using var sheet = new PdfSheet(
            paper,
            $"Press ticket {set.Read.Order.Number}, version {set.Read.Version.Number}",
            set.Read.Order.Shop,
            set.MadeAt
        );
        for (var i = 0; i < set.Tickets.Length; i++)
        {
            if (i > 0)
                sheet.NextPage();
            Page(sheet, set, set.Tickets[i], pictures[set.Tickets[i].Print.Key]);
        }
        return sheet.Save();
    }

    private static void Page(PdfSheet sheet, TicketSet set, Ticket ticket, byte[] picture)
    {
        var width = sheet.Paper.WidthMm - 2 * Margin;
        var bottom = sheet.Paper.HeightMm - Margin;
        var y = Head(sheet, set, ticket, width);
        // A ticket is one page: the drawing takes what stations, run and cautions leave.
        const double Rest = 66;
        var drawing = Math.Clamp(bottom - y - Rest - ticket.Heads.Length * RowMm, 55, 112);
        y = Placement(sheet, set, ticket, picture, y + 3, width, drawing);
        y = Heads(sheet, ticket, y + 4, width, bottom - 62);
        y = Run(sheet, set, y + 4, width);
        Cautions(sheet, ticket, y + 4, width, bottom - 7);
        Foot(sheet, set, bottom - 4, width);
    }

    private static double Head(PdfSheet sheet, TicketSet set, Ticket ticket, double width)
    {
        const double Square = 30;
        var order = set.Read.Order;
        var y = Margin;
        var room = width - Square - 4;
        if (set.Refusal is not null)
        {
            sheet.Fill(Margin, y, room, 9, "#15181b");
            sheet.Write(
                TicketSet.NotReleased,
                new(15, IsBold: true, Hex: "#ffffff"),
                Margin,
                y + 1.2,
                room,
                PdfAlign.Centre
            );
            y += 10.5;
        }
        y += sheet.Write(set.Release, PdfText.Soft, Margin, y, room) + 0.5;
        y += sheet.Write(sheet.Cut($"{order.Number} {order.Title}", PdfText.Head, room), PdfText.Head, Margin, y, room);
        y += sheet.Write(
            sheet.Cut(
                $"{ticket.Where}. Version {set.Read.Version.Number}. {order.Client}, {Words.Count(order.Pieces, "piece", "pieces")}, in hands {Words.Day(order.InHands)}",
                PdfText.Body,
                room
            ),
            PdfText.Body,
            Margin,
            y,
            room
        );
        sheet.Square(ticket.Code, Margin + width - Square, Margin, Square);
        sheet.Write(ticket.Code, new(6), Margin + width - Square, Margin + Square, Square, PdfAlign.Centre);
        y = Math.Max(y, Margin + Square + 6) + 1;
        sheet.Line(Margin, y, Margin + width, y, PdfStroke.Strong);
        return y;
    }

    private static double Placement(
        PdfSheet sheet,
        TicketSet set,
        Ticket ticket,
        byte[] picture,
        double top,
        double width,
        double height
    )
    {
        var left = width * 0.5;
        if (ticket.Tape is { } tape)
            Drawing(sheet, tape, Margin, top, left - 4, height);
        else
            sheet.Write("This garment has no drawing.", PdfText.Soft, Margin, top, left - 4);
        var (x, y) = (Margin + left, top);
        var right = width - left;
        var print = ticket.Print;
        y = Slip(
            sheet,
            x,
            y,
            right,
            "Size",
            $"{Words.Length(print.WidthMm)} wide, {Words.Length(print.HeightMm)} high"
        );
        y = Slip(sheet, x, y, right, "From the seam", Words.Length(print.FromSeamMm));
        y = Slip(
            sheet,
            x,
            y,
            right,
            "From the centre",
            print.FromCentreMm == 0
                ? "centred"
                : $"{Words.Length(Math.Abs(print.FromCentreMm))} to the wearer's {(print.FromCentreMm > 0 ? "left" : "right")}"
        );
        y = Slip(sheet, x, y, right, "Method", print.Method + (print.Images is { } images ? $", {images}" : ""));
        if (print.Press is { } press)
            y = Slip(sheet, x, y, right, "Press", press);
        if (print.Device is { } device)
            y = Slip(sheet, x, y, right, "Films", $"{device}, {print.HandOver}");
        const int MostLines = 6;
        foreach (var line in set.Lines.Take(set.Lines.Length > MostLines ? MostLines - 1 : MostLines))
            y = Slip(sheet, x, y, right, sheet.Cut(line.Garment, PdfText.Soft, 31), $"{line.Counts} = {line.Pieces}");
        if (set.Lines.Length > MostLines)
            y = Slip(
                sheet,
                x,
                y,
                right,
                $"and {set.Lines.Length - MostLines + 1} more",
                Words.Count(set.Lines.Skip(MostLines - 1).Sum(l => l.Pieces), "piece", "pieces")
            );
        var under = top + height - y - 2;
        if (under > 14)
            sheet.Picture(picture, x, y + 2, right, under);
        return Math.Max(top + height, y);
    }

    private static double Slip(PdfSheet sheet, double x, double y, double width, string name, string value)
    {
        const double Names = 32;
        sheet.Write(name, PdfText.Soft, x, y + 0.4, Names);
        var height = sheet.Write(value, PdfText.Body, x + Names, y, width - Names);
        y += Math.Max(height, PdfText.Body.LineMm) + 0.6;
        sheet.Line(x, y, x + width, y, PdfStroke.Hair);
        return y + 0.6;
    }

    private static void Drawing(PdfSheet sheet, TapeDrawing tape, double left, double top, double width, double height)
    {
        var frame = tape.Frame;
        const double Around = 5;
        var scale = Math.Min(
            (width - 2 * Around) / (frame.Right - frame.Left),
            (height - 2 * Around) / (frame.Bottom - frame.Top)
        );
        var x0 = left + (width - scale * (frame.Right - frame.Left)) / 2;
        var y0 = top + Around;
        (double X, double Y) At((double X, double Y) p) =>
            (x0 + scale * (p.X - frame.Left), y0 + scale * (p.Y - frame.Top));
        foreach (var outline in tape.Outlines)
            sheet.Shape([.. outline.Select(At)], Cloth, isClosed: true);
        foreach (var seam in tape.Seams)
            sheet.Shape([.. seam.Select(At)], Seam, isClosed: false);
        var (from, to) = (At(tape.CentreLine.From), At(tape.CentreLine.To));
        sheet.Line(from.X, from.Y, to.X, to.Y, Middle);
        sheet.Shape([.. tape.Ink.Select(At)], PdfStroke.Strong, isClosed: true, fill: "#dfe3e6");
        // The tape from the seam is labelled on the side where the print is not, the other one past the print.
        var toRight = tape.FromCentre is { } aside && aside.To.X > aside.From.X;
        var down = Tick(sheet, tape.FromSeam, At);
        Label(sheet, TicketSvg.Mm(tape.FromSeam.Mm), toRight ? down.X - 1.5 : down.X + 1.5, down.Y, isRight: !toRight);
        if (tape.FromCentre is { } centre)
        {
            var ink = tape.Ink.Select(At).ToList();
            var middle = Tick(sheet, centre, At);
            Label(
                sheet,
                TicketSvg.Mm(centre.Mm),
                toRight ? ink.Max(p => p.X) + 1.5 : ink.Min(p => p.X) - 1.5,
                middle.Y,
                toRight
            );
        }
        var under = At(tape.Ink[3]);
        var across = At(tape.Ink[2]);
        sheet.Write(
            TicketSvg.Mm(tape.Across.Mm) + " wide",
            PdfText.Soft,
            (under.X + across.X) / 2 - 20,
            Math.Max(under.Y, across.Y) + 0.8,
            40,
            PdfAlign.Centre
        );
        sheet.Write(
            $"{(tape.Side == GarmentSide.Front ? "Front" : "Back")}, size {tape.Size}",
            PdfText.Soft,
            left,
            top,
            width
        );
    }

    /// <summary>A measured line with a bar across each end; gives its middle on the sheet.</summary>
    private static (double X, double Y) Tick(
        PdfSheet sheet,
        TapeLine line,
        Func<(double X, double Y), (double X, double Y)> at
    )
    {
        var (a, b) = (at(line.From), at(line.To));
        sheet.Line(a.X, a.Y, b.X, b.Y, Tape);
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var length = Math.Max(0.001, Math.Sqrt(dx * dx + dy * dy));
        var (nx, ny) = (-dy / length * 1.2, dx / length * 1.2);
        foreach (var (x, y) in new[] { a, b })
            sheet.Line(x - nx, y - ny, x + nx, y + ny, Tape);
        return ((a.X + b.X) / 2, (a.Y + b.Y) / 2);
    }

    private static void Label(PdfSheet sheet, string words, double x, double y, bool isRight) =>
        sheet.Write(
            words,
            new(8, IsBold: true, Hex: "#9c1f24"),
            isRight ? x : x - 30,
            y - 1.8,
            30,
            isRight ? PdfAlign.Left : PdfAlign.Right
        );

    private static double Heads(PdfSheet sheet, Ticket ticket, double top, double width, double bottom)
    {
        // Head, screen, plate and ink, mesh and dots, strokes, flash, grams; then three columns to write into.
        double[] share = [0.055, 0.065, 0.25, 0.165, 0.075, 0.065, 0.085, 0.09, 0.07, 0.08];
        string[] names =
        [
            "Head",
            "Screen",
            "Ink",
            "Mesh, dots",
            "Strokes",
            "Flash",
            "Mix, g",
            "Mesh used",
            "Strokes",
            "Grams",
        ];
        var x = new double[share.Length + 1];
        x[0] = Margin;
        for (var i = 0; i < share.Length; i++)
            x[i + 1] = x[i] + share[i] * width;
        sheet.Write("Planned", PdfText.Strong, Margin, top, x[7] - Margin);
        sheet.Write("Actual", PdfText.Strong, x[7] + 1, top, width);
        var y = top + 4.6;
        for (var i = 0; i < names.Length; i++)
            sheet.Write(names[i], PdfText.Soft, x[i] + (i >= 7 ? 1 : 0), y, x[i + 1] - x[i] - 1);
        y += 4.4;
        sheet.Line(Margin, y, Margin + width, y, PdfStroke.Strong);
        var begin = y;
        var row = Math.Clamp((bottom - y) / Math.Max(1, ticket.Heads.Length), 3.6, RowMm);
        var type = row < 5 ? PdfText.Soft : PdfText.Body;
        foreach (var head in ticket.Heads)
        {
            var text = y + (row - type.LineMm) / 2;
            void Cell(int column, string words, PdfText kind) =>
                sheet.Write(sheet.Cut(words, kind, x[column + 1] - x[column] - 1), kind, x[column], text, 200);
            Cell(0, head.Head is { } at ? $"{at}" : "", type);
            if (head.Screen is { } screen)
            {
                Cell(1, $"{screen}", type with { IsBold = true });
                sheet.Fill(x[2], y + row / 2 - 1.3, 2.6, 2.6, head.Hex);
                sheet.Box(x[2], y + row / 2 - 1.3, 2.6, 2.6, PdfStroke.Hair);
                var ink =
                    head.Ink + (head.Where.Length > 0 ? $" ({head.Where})" : "") + (head.Said.Length > 0 ? " *" : "");
                sheet.Write(sheet.Cut(ink, type, x[3] - x[2] - 5), type, x[2] + 4, text, 200);
                Cell(3, $"{head.Mesh} {head.Dots}", PdfText.Soft);
                Cell(4, $"{head.Strokes}", type);
                Cell(5, head.Flash ? "yes" : "", type);
                Cell(6, head.Grams is { } grams ? FormattableString.Invariant($"{grams:0}") : "", type);
            }
            else
            {
                sheet.Write(sheet.Cut(head.Said, PdfText.Soft, x[7] - x[2]), PdfText.Soft, x[2], text, 200);
            }
            y += row;
            sheet.Line(Margin, y, Margin + width, y, PdfStroke.Hair);
        }
        foreach (var column in new[] { 7, 8, 9, 10 })
            sheet.Line(x[column], begin, x[column], y, PdfStroke.Hair);
        return y;
    }

    private static double Run(PdfSheet sheet, TicketSet set, double top, double width)
    {
        var before = set.Before;
        double[] at = [0, 0.25, 0.5, 0.75];
        (string Name, string Value)[] boxes =
        [
            ("Ordered", $"{set.Read.Order.Pieces}"),
            ("Good", before?.Good is { } good ? $"{good}" : ""),
            ("Spoilt", before?.Spoilt is { } spoilt ? $"{spoilt}" : ""),
            ("First piece checked by, day", ""),
        ];
        for (var i = 0; i < boxes.Length; i++)
        {
            sheet.Box(Margin + at[i] * width, top, width / 4, 11, PdfStroke.Hair);
            sheet.Write(boxes[i].Name, new(6.5, Hex: "#4b5259"), Margin + at[i] * width + 1, top + 0.6, width / 4 - 2);
            sheet.Write(boxes[i].Value, PdfText.Lead, Margin + at[i] * width + 1, top + 4.6, width / 4 - 2);
        }
        var y = top + 12;
        if (before is null)
            return y;
        y += sheet.Write(
            $"Good, spoilt and what follows were written down on {Words.Moment(before.At)}, when these films were on the press before.",
            new(6.5, Hex: "#4b5259"),
            Margin,
            y,
            width
        );
        foreach (var line in before.Said.Take(3))
            y += sheet.Write(sheet.Cut(line, PdfText.Soft, width), PdfText.Soft, Margin, y, width);
        return y;
    }

    private static void Cautions(PdfSheet sheet, Ticket ticket, double top, double width, double bottom)
    {
        var y = top;
        foreach (var caution in ticket.Cautions)
        {
            var height = sheet.HeightMm(caution, PdfText.Soft, width - 3);
            if (y + height > bottom)
                break;
            sheet.Fill(Margin, y + 1.2, 1, 1, "#7a4a00");
            y += sheet.Write(caution, PdfText.Soft, Margin + 3, y, width - 3);
        }
        foreach (var head in ticket.Heads.Where(h => h.Screen is not null && h.Said.Length > 0))
        {
            var line = $"* screen {head.Screen}: {head.Said}";
            if (y + sheet.HeightMm(line, PdfText.Soft, width) > bottom)
                break;
            y += sheet.Write(line, PdfText.Soft, Margin, y, width);
        }
    }

    private static void Foot(PdfSheet sheet, TicketSet set, double y, double width)
    {
        sheet.Line(Margin, y - 0.8, Margin + width, y - 0.8, PdfStroke.Hair);
        sheet.Write(
            $"Manifest {Words.Digest(set.Read.Version.ManifestSha256)}",
            new(6.5, Hex: "#4b5259"),
            Margin,
            y,
            width * 0.8
        );
        sheet.Write(Words.Moment(set.MadeAt), new(6.5, Hex: "#4b5259"), Margin, y, width, PdfAlign.Right);
    }
}
