using PdfSharp.Drawing;
using PdfSharp.Pdf;
using ProofDesk.Adapters.Codecs;

namespace ProofDesk.Adapters.Documents;

/// <summary>
/// Pages of one size, drawn in millimetres from their top left corner. Streams are left uncompressed and pictures come in as JPEG:
/// the library's own Flate streams lack their checksum, and readers say so.
/// </summary>
public sealed class PdfSheet : IDisposable
{
    private const double PerMm = 72 / 25.4;

    private readonly PdfDocument _document = new();
    private readonly Dictionary<PdfText, XFont> _fonts = [];
    private XGraphics _page;

    public PdfSheet(PaperSize paper, string title, string author, DateTimeOffset made)
    {
        PdfFonts.Use();
        Paper = paper;
        _document.Info.Title = title;
        _document.Info.Author = author;
        _document.Info.Creator = "ProofDesk";
        _document.Info.CreationDate = made.UtcDateTime;
        _document.Language = "en";
        _document.Options.NoCompression = true;
        _document.Options.CompressContentStreams = false;
        _page = NewPage();
    }

    public PaperSize Paper { get; }

    public int Pages => _document.PageCount;

    public void NextPage()
    {
        _page.Dispose();
        _page = NewPage();
    }

    /// <summary>Writes text into a column, lines broken where it is full; gives how many millimetres it took.</summary>
    public double Write(
        string text,
        PdfText type,
        double xMm,
        double yMm,
        double widthMm,
        PdfAlign align = PdfAlign.Left
    )
    {
        var font = FontOf(type);
        var brush = new XSolidBrush(Colour(type.Hex));
        var y = yMm;
        foreach (var line in LinesOf(text, type, widthMm))
        {
            var x = align switch
            {
                PdfAlign.Right => xMm + widthMm - WidthMm(line, type),
                PdfAlign.Centre => xMm + (widthMm - WidthMm(line, type)) / 2,
                _ => xMm,
            };
            _page.DrawString(line, font, brush, new XPoint(x * PerMm, (y * PerMm) + type.Points));
            y += type.LineMm;
        }
        return y - yMm;
    }

    /// <summary>How many millimetres <see cref="Write"/> would take.</summary>
    public double HeightMm(string text, PdfText type, double widthMm) =>
        LinesOf(text, type, widthMm).Count * type.LineMm;

    public double WidthMm(string line, PdfText type) => _page.MeasureString(line, FontOf(type)).Width / PerMm;

    /// <summary>One line cut to a width, with three dots where something is missing.</summary>
    public string Cut(string line, PdfText type, double widthMm)
    {
        if (WidthMm(line, type) <= widthMm)
        {
            return line;
        }
        var kept = line.Length;
        while (kept > 0 && WidthMm(line[..kept] + "…", type) > widthMm)
        {
            kept--;
        }
        return line[..kept].TrimEnd() + "…";
    }

    public void Line(double fromX, double fromY, double toX, double toY, PdfStroke stroke) =>
        _page.DrawLine(PenOf(stroke), fromX * PerMm, fromY * PerMm, toX * PerMm, toY * PerMm);

    public void Fill(double xMm, double yMm, double widthMm, double heightMm, string hex) =>
        _page.DrawRectangle(new XSolidBrush(Colour(hex)), xMm * PerMm, yMm * PerMm, widthMm * PerMm, heightMm * PerMm);

    public void Box(double xMm, double yMm, double widthMm, double heightMm, PdfStroke stroke) =>
        _page.DrawRectangle(PenOf(stroke), xMm * PerMm, yMm * PerMm, widthMm * PerMm, heightMm * PerMm);

    /// <summary>A run of points, closed or not, filled when a colour is given.</summary>
    public void Shape(
        IReadOnlyList<(double X, double Y)> pointsMm,
        PdfStroke stroke,
        bool isClosed,
        string? fill = null
    )
    {
        var path = new XGraphicsPath();
        path.AddLines([.. pointsMm.Select(p => new XPoint(p.X * PerMm, p.Y * PerMm))]);
        if (isClosed)
        {
            path.CloseFigure();
        }
        if (fill is null)
        {
            _page.DrawPath(PenOf(stroke), path);
        }
        else
        {
            _page.DrawPath(PenOf(stroke), new XSolidBrush(Colour(fill)), path);
        }
    }

    /// <summary>A JPEG within a frame, whole, in the middle; gives where it lies.</summary>
    public (double X, double Y, double Width, double Height) Picture(
        byte[] jpeg,
        double xMm,
        double yMm,
        double widthMm,
        double heightMm
    )
    {
        using var stream = new MemoryStream(jpeg);
        using var picture = XImage.FromStream(stream);
        var scale = Math.Min(widthMm / picture.PixelWidth, heightMm / picture.PixelHeight);
        var (w, h) = (picture.PixelWidth * scale, picture.PixelHeight * scale);
        var (x, y) = (xMm + (widthMm - w) / 2, yMm + (heightMm - h) / 2);
        _page.DrawImage(picture, x * PerMm, y * PerMm, w * PerMm, h * PerMm);
        return (x, y, w, h);
    }

    /// <summary>A square code with its quiet zone of four modules, dark on white.</summary>
    public void Square(string text, double xMm, double yMm, double sizeMm)
    {
        const int Quiet = 4;
        var modules = SquareCode.Of(text);
        var across = modules.GetLength(0);
        var module = sizeMm / (across + (2 * Quiet));
        Fill(xMm, yMm, sizeMm, sizeMm, "#ffffff");
        for (var row = 0; row < across; row++)
        {
            for (var column = 0; column < across; column++)
            {
                var run = column;
                while (run < across && modules[row, run])
                {
                    run++;
                }
                if (run > column)
                {
                    Fill(
                        xMm + ((column + Quiet) * module),
                        yMm + ((row + Quiet) * module),
                        (run - column) * module,
                        module,
                        "#000000"
                    );
                    column = run;
                }
            }
        }
    }

    public byte[] Save()
    {
        _page.Dispose();
        using var bytes = new MemoryStream();
        _document.Save(bytes, closeStream: false);
        return bytes.ToArray();
    }

    public void Dispose()
    {
        _page.Dispose();
        _document.Dispose();
    }

    private XGraphics NewPage()
    {
        var page = _document.AddPage();
        page.Width = XUnit.FromMillimeter(Paper.WidthMm);
        page.Height = XUnit.FromMillimeter(Paper.HeightMm);
        return XGraphics.FromPdfPage(page);
    }

    private List<string> LinesOf(string text, PdfText type, double widthMm)
    {
        var lines = new List<string>();
        foreach (var paragraph in text.ReplaceLineEndings("\n").Split('\n'))
        {
            var line = "";
            foreach (var word in paragraph.Split(' '))
            {
                var longer = line.Length == 0 ? word : $"{line} {word}";
                if (WidthMm(longer, type) <= widthMm)
                {
                    line = longer;
                    continue;
                }
                if (line.Length > 0)
                {
                    lines.Add(line);
                }
                line = word;
                // A word wider than the column is broken where the column ends.
                while (WidthMm(line, type) > widthMm && line.Length > 1)
                {
                    var kept = line.Length - 1;
                    while (kept > 1 && WidthMm(line[..kept], type) > widthMm)
                    {
                        kept--;
                    }
                    lines.Add(line[..kept]);
                    line = line[kept..];
                }
            }
            lines.Add(line);
        }
        return lines;
    }

    private XFont FontOf(PdfText type)
    {
        if (!_fonts.TryGetValue(type, out var font))
        {
            font = new XFont(PdfFonts.Face, type.Points, type.IsBold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
            _fonts[type] = font;
        }
        return font;
    }

    private static XPen PenOf(PdfStroke stroke)
    {
        var pen = new XPen(Colour(stroke.Hex), stroke.WidthMm * PerMm);
        if (stroke.IsDashed)
        {
            pen.DashStyle = XDashStyle.Dash;
        }
        return pen;
    }

    private static XColor Colour(string hex)
    {
        var rgb = Convert.FromHexString(hex.AsSpan(1));
        return XColor.FromArgb(rgb[0], rgb[1], rgb[2]);
    }
}

public enum PdfAlign
{
    Left,
    Right,
    Centre,
}

/// <param name="Hex">colour, "#82878b"</param>
public sealed record PdfStroke(double WidthMm, string Hex, bool IsDashed = false)
{
    public static PdfStroke Hair { get; } = new(0.15, "#b5b7b3");
    public static PdfStroke Strong { get; } = new(0.3, "#15181b");
}
