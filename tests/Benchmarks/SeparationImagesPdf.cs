using System.Globalization;
using System.IO.Compression;
using System.Text;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations;

namespace Benchmarks;

/// <summary>
/// The plates as 8-bit /Separation images on one page, overprinting, for an independent screener to read
/// (ISO 32000-1, 8.6.6.4 and 8.9.5). Tones are the ones inside the outline; the outline is multiplied in.
/// </summary>
internal static class SeparationImagesPdf
{
    internal static void Write(Stream stream, Separation separation)
    {
        var offsets = new List<long>();
        var plates = separation.Plates;
        Text("%PDF-1.7\n");
        Object("<< /Type /Catalog /Pages 2 0 R >>");
        Object("<< /Type /Pages /Kids [3 0 R] /Count 1 >>");
        var (w, h) = (separation.WidthMm / 25.4 * 72, separation.HeightMm / 25.4 * 72);
        var images = string.Concat(plates.Select((_, i) => $"/P{i} {6 + i} 0 R "));
        Object(
            string.Create(
                CultureInfo.InvariantCulture,
                $"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {w:0.####} {h:0.####}] /Contents 4 0 R /Resources << /XObject << {images}>> /ExtGState << /G 5 0 R >> >> >>"
            )
        );
        var draw = string.Concat(plates.Select((_, i) => $"/P{i} Do "));
        var content = string.Create(CultureInfo.InvariantCulture, $"/G gs {w:0.####} 0 0 {h:0.####} 0 0 cm {draw}");
        Object($"<< /Length {content.Length} >>\nstream\n{content}\nendstream");
        Object("<< /Type /ExtGState /OP true /op true /OPM 1 >>");
        foreach (var plate in plates)
        {
            var data = Deflated(plate);
            var name = plate.Name.Replace(" ", "#20", StringComparison.Ordinal);
            Begin();
            Text(
                $"<< /Type /XObject /Subtype /Image /Width {plate.Tone.Width} /Height {plate.Tone.Height} /BitsPerComponent 8 "
                    + $"/ColorSpace [/Separation /{name} /DeviceGray << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>] "
                    + $"/Filter /FlateDecode /Length {data.Length} >>\nstream\n"
            );
            stream.Write(data);
            Text("\nendstream\nendobj\n");
        }
        var at = stream.Position;
        Text($"xref\n0 {offsets.Count + 1}\n0000000000 65535 f \n");
        foreach (var offset in offsets)
            Text($"{offset:D10} 00000 n \n");
        Text($"trailer << /Size {offsets.Count + 1} /Root 1 0 R >>\nstartxref\n{at}\n%%EOF\n");

        void Text(string text) => stream.Write(Encoding.ASCII.GetBytes(text));
        void Begin()
        {
            offsets.Add(stream.Position);
            Text($"{offsets.Count} 0 obj\n");
        }
        void Object(string body)
        {
            Begin();
            Text(body + "\nendobj\n");
        }
    }

    private static byte[] Deflated(Plate plate)
    {
        var bytes = new MemoryStream();
        using (var deflate = new ZLibStream(bytes, CompressionLevel.Fastest))
        {
            var row = new byte[plate.Tone.Width];
            for (var y = 0; y < plate.Tone.Height; y++)
            {
                var tone = plate.Tone.Row(y);
                tone.CopyTo(row);
                if (plate.Shape is not null)
                {
                    var shape = plate.Shape.Row(y);
                    for (var x = 0; x < row.Length; x++)
                        row[x] = (byte)((tone[x] * shape[x] + 127) / 255);
                }
                deflate.Write(row);
            }
        }
        return bytes.ToArray();
    }
}
