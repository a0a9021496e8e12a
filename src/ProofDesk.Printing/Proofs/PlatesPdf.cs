using System.Globalization;
using System.IO.Compression;
using System.Text;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// All plates on one page of the image area's size, each ink in a /Separation space of its own (PDF 1.7, ISO 32000-1,
/// 8.6.6.4), overprinting (11.7.4): a reader that separates gets the very film bits back, one that does not sees the
/// inks over each other. Film bits are painted through a stencil, so that cleared film hides nothing; plates for
/// devices that make the dots are 8-bit images.
/// </summary>
public static class PlatesPdf
{
    private const int BandRows = 256;

    /// <param name="solids">What a solid of each plate looks like, for readers that show colour; plate order.</param>
    public static void Write(
        Stream stream,
        Films films,
        IReadOnlyList<LinearRgb> solids,
        string title,
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
        var width = films.Width / films.Device.XDpi * 72;
        var height = films.Height / films.Device.YDpi * 72;
        var box = $"[0 0 {Number(width)} {Number(height)}]";
        const int FirstPlate = 6;
        var spaces = new StringBuilder();
        var names = new StringBuilder();
        for (var i = 0; i < count; i++)
        {
            spaces.Append(CultureInfo.InvariantCulture, $" /CS{i} {FirstPlate + 2 * i} 0 R");
            names.Append(CultureInfo.InvariantCulture, $" /Im{i} {FirstPlate + 2 * i + 1} 0 R");
        }
        pdf.Add("<< /Type /Catalog /Pages 2 0 R >>");
        pdf.Add("<< /Type /Pages /Kids [3 0 R] /Count 1 >>");
        pdf.Add(
            $"<< /Type /Page /Parent 2 0 R /MediaBox {box} /TrimBox {box} /Contents 4 0 R "
                + $"/Resources << /ColorSpace <<{spaces} >> /XObject <<{names} >> "
                + "/ExtGState << /Over << /Type /ExtGState /OP true /op true /OPM 1 >> >> >> >>"
        );
        pdf.Add("<< >>", Content(count, width, height));
        pdf.Add($"<< /Title {Text(title)} /Creator (ProofDesk) >>");
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

    private static byte[] Content(int plates, double width, double height)
    {
        var text = new StringBuilder("/Over gs\n");
        for (var i = 0; i < plates; i++)
            text.Append(
                CultureInfo.InvariantCulture,
                $"q /CS{i} cs 1 scn {Number(width)} 0 0 {Number(height)} 0 0 cm /Im{i} Do Q\n"
            );
        return Encoding.ASCII.GetBytes(text.ToString());
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
