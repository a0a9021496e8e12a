using System.Globalization;
using System.IO.Compression;
using System.Text;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// All plates on one page, each ink in a /Separation space of its own (PDF 1.7, ISO 32000-1, 8.6.6.4), overprinting
/// (11.7.4): a reader that separates gets the very film bits back, one that does not sees the inks over each other. The
/// trim box is the image area (14.11.2), or all images of a screen; register marks outside it are in /All. Film bits are painted through a stencil, so that cleared film hides nothing; plates for
/// devices that make the dots are 8-bit images.
/// </summary>
public static class PlatesPdf
{
    private const int BandRows = 256;

    private const double LineMm = 4;
    private const double CapMm = 2.2;

    /// <param name="released">False prints NOT RELEASED outside the images.</param>
    /// <param name="solids">What a solid of each plate looks like, for readers that show colour; plate order.</param>
    public static void Write(
        Stream stream,
        Films films,
        IReadOnlyList<LinearRgb> solids,
        string title,
        bool released = true,
        CancellationToken cancel = default
    )
    {
        var count = films.Plates.Length;
        var images = new (byte[] Data, string Dictionary)[count];
        Parallel.For(
            0,
            count,
            new() { CancellationToken = cancel },
            i =>
                images[i] =
                    films.Device.HandOver == HandOver.DotsOurs ? Stencil(films.Plates[i], cancel) : Tone(films, i)
        );

        var pdf = new PdfObjects(stream);
        var page = Page.Of(films);
        const int FirstPlate = 7;
        var spaces = new StringBuilder(" /All 6 0 R");
        var names = new StringBuilder();
        for (var i = 0; i < count; i++)
        {
            spaces.Append(CultureInfo.InvariantCulture, $" /CS{i} {FirstPlate + 2 * i} 0 R");
            names.Append(CultureInfo.InvariantCulture, $" /Im{i} {FirstPlate + 2 * i + 1} 0 R");
        }
        pdf.Add("<< /Type /Catalog /Pages 2 0 R >>");
        pdf.Add("<< /Type /Pages /Kids [3 0 R] /Count 1 >>");
        pdf.Add(
            $"<< /Type /Page /Parent 2 0 R /MediaBox {page.Media} /BleedBox {page.Trim} /TrimBox {page.Trim} /Contents 4 0 R "
                + $"/Resources << /ColorSpace <<{spaces} >> /XObject <<{names} >> "
                + "/ExtGState << /Over << /Type /ExtGState /OP true /op true /OPM 1 >> >> >> >>"
        );
        pdf.Add("<< >>", Encoding.ASCII.GetBytes(Content(films, page) + Marks(films, page, title, released)));
        pdf.Add($"<< /Title {Text(title)} /Creator (ProofDesk) >>");
        // Marks that every plate carries.
        pdf.Add("[/Separation /All /DeviceRGB << /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [0 0 0] /N 1 >>]");
        for (var i = 0; i < count; i++)
        {
            var plate = films.Plates[i].Plate;
            pdf.Add(
                $"[/Separation {Name(plate.Name)} /DeviceRGB "
                    + $"<< /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [{Shown(solids[i])}] /N 1 >>]"
            );
            var space = films.Device.HandOver == HandOver.DotsOurs ? "" : $" /ColorSpace {FirstPlate + 2 * i} 0 R";
            pdf.Add(images[i].Dictionary.Replace("{space}", space, StringComparison.Ordinal), images[i].Data);
        }
        pdf.Finish(root: 1, info: 5);
    }

    /// <summary>
    /// Points; the origin is the images' lower left corner. Margins are whole film pixels, so that a reader at the film's
    /// resolution meets its pixels whether it takes the whole page or the trim box.
    /// </summary>
    private sealed record Page(
        double Width,
        double Height,
        double StepX,
        double StepY,
        double Side,
        double Above,
        double Below
    )
    {
        public string Trim => $"[0 0 {Number(Width)} {Number(Height)}]";
        public string Media => $"[{Number(-Side)} {Number(-Below)} {Number(Width + Side)} {Number(Height + Above)}]";

        public static Page Of(Films films)
        {
            var (device, layout, frame) = (films.Device, films.Layout, films.Device.Frame);
            if (films.Plates.Length == 0)
                return new(0, 0, 0, 0, 0, 0, 0);
            var (stepX, stepY) = (layout.StepX(films.Plates[0], device), layout.StepY(films.Plates[0], device));
            var width = (layout.Columns - 1) * stepX + films.Width;
            var height = (layout.Rows - 1) * stepY + films.Height;
            var side = Math.Max(frame.SideMarginMm, (frame.LeastWidthMm - width / device.XDpi * 25.4) / 2);
            return new(
                Across(width),
                Down(height),
                Across(stepX),
                Down(stepY),
                Across(Math.Ceiling(side / 25.4 * device.XDpi)),
                Down(Math.Ceiling((frame.MarkReachMm + 3) / 25.4 * device.YDpi)),
                Down(Math.Ceiling((frame.MarkReachMm + 4 + (films.Plates.Length + 1) * LineMm) / 25.4 * device.YDpi))
            );

            double Across(double pixels) => pixels / device.XDpi * 72;
            double Down(double pixels) => pixels / device.YDpi * 72;
        }
    }

    private static string Content(Films films, Page page)
    {
        var text = new StringBuilder("/Over gs\n");
        if (films.Plates.Length == 0)
            return text.ToString();
        var (width, height) = (films.Width / films.Device.XDpi * 72, films.Height / films.Device.YDpi * 72);
        for (var i = 0; i < films.Plates.Length; i++)
        for (var row = 0; row < films.Layout.Rows; row++)
        for (var column = 0; column < films.Layout.Columns; column++)
            text.Append(
                CultureInfo.InvariantCulture,
                $"q /CS{i} cs 1 scn {Number(width)} 0 0 {Number(height)} {Number(column * page.StepX)} {Number(page.Height - row * page.StepY - height)} cm /Im{i} Do Q\n"
            );
        return text.ToString();
    }

    private static string Marks(Films films, Page page, string title, bool released)
    {
        if (films.Plates.Length == 0)
            return "";
        var (frame, layout) = (films.Device.Frame, films.Layout);
        var (width, height) = (page.Width / 72 * 25.4, page.Height / 72 * 25.4);
        var left = -page.Side / 72 * 25.4 + 4;
        var marks = new PdfMarks(height);
        marks.In("All");
        marks.Register(width / 2, -frame.MarkDistanceMm, frame);
        marks.Register(width / 2, height + frame.MarkDistanceMm, frame);
        if (!layout.IsOne)
            for (var column = 0; column < layout.Columns; column++)
            {
                var x = (column * page.StepX + films.Width / films.Device.XDpi * 36) / 72 * 25.4;
                marks.Tick(x, -8, 6, frame.MarkLineMm);
                marks.Tick(x, height + 2, 6, frame.MarkLineMm);
            }
        if (!released)
            marks.Text(width / 2 + 10, -18.5, 4.5, "NOT RELEASED");
        var y = height + frame.MarkReachMm + 4;
        marks.Text(
            left,
            y,
            CapMm,
            title + (films.Device.HandOver == HandOver.DotsOurs ? ", DOTS BOUND" : ", TONES BOUND, DOTS SIMULATED")
        );
        for (var i = 0; i < films.Plates.Length; i++)
        {
            var plate = films.Plates[i].Plate;
            marks.In($"CS{i}");
            marks.Text(left, y + (i + 1) * LineMm, CapMm, $"{i + 1} {plate.Name}, MESH {plate.Mesh.Label}");
        }
        return marks.Content;
    }

    private static (byte[], string) Stencil(Film film, CancellationToken cancel)
    {
        var encoder = new CcittG4Encoder(film.Width);
        BitPlane? band = null;
        for (var top = 0; top < film.Height; top += BandRows)
        {
            cancel.ThrowIfCancellationRequested();
            var rows = Math.Min(BandRows, film.Height - top);
            band = band?.Height == rows ? band : new(film.Width, rows);
            film.ReadRows(top, band);
            encoder.Append(band);
        }
        // A stencil paints where its samples are 0, and black is 0 unless /BlackIs1 says otherwise.
        return (
            encoder.Finish().ToArray(),
            $"<< /Type /XObject /Subtype /Image /Width {film.Width} /Height {film.Height} /ImageMask true "
                + "/BitsPerComponent 1 /Filter /CCITTFaxDecode "
                + $"/DecodeParms << /K -1 /Columns {film.Width} /Rows {film.Height} /BlackIs1 false >> >>"
        );
    }

    private static (byte[], string) Tone(Films films, int index)
    {
        var tone = TonePlate.Of(films.Plates[index].Plate);
        using var packed = new MemoryStream();
        using (var zip = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true))
            zip.Write(tone.Pixels);
        return (
            packed.ToArray(),
            $"<< /Type /XObject /Subtype /Image /Width {tone.Width} /Height {tone.Height}{{space}} "
                + "/BitsPerComponent 8 /Filter /FlateDecode >>"
        );
    }

    /// <summary>White ink on the reader's white page would not be seen: shown a little blue.</summary>
    private static string Shown(LinearRgb solid)
    {
        var (r, g, b) = (Srgb.Encode(Unit(solid.R)), Srgb.Encode(Unit(solid.G)), Srgb.Encode(Unit(solid.B)));
        if (Math.Min(r, Math.Min(g, b)) > 0.8)
            (r, g, b) = (0.78, 0.86, 0.94);
        return $"{Number(r)} {Number(g)} {Number(b)}";
    }

    private static double Unit(double v) => Math.Clamp(v, 0, 1);

    /// <summary>7.3.5: what is not a regular printable character is written as # and two hexadecimal digits.</summary>
    internal static string Name(string name)
    {
        var text = new StringBuilder("/");
        foreach (var b in Encoding.UTF8.GetBytes(name))
            if (b is > 32 and < 127 && !"#()<>[]{}/%".Contains((char)b, StringComparison.Ordinal))
                text.Append((char)b);
            else
                text.Append(CultureInfo.InvariantCulture, $"#{b:X2}");
        return text.ToString();
    }

    /// <summary>7.9.2.2: UTF-16 with its mark, as a hexadecimal string.</summary>
    private static string Text(string text) => $"<FEFF{Convert.ToHexString(Encoding.BigEndianUnicode.GetBytes(text))}>";

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
