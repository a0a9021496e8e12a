using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Documents;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Sheets;

/// <summary>A compare sheet on pages, four colours of cloth beside each other. Type is type, pictures are JPEG at high quality.</summary>
public sealed class SheetPdf(IFileStore files)
{
    public const int Across = 4;

    private const double Margin = 12;
    private const double Gap = 5;
    private const double PictureHigh = 58;
    private const int MostPixels = 700;
    private const int Quality = 94;

    private static readonly PaperSize Landscape = new("A4 landscape", PaperSize.A4.HeightMm, PaperSize.A4.WidthMm);
    private static readonly PdfText Small = new(7);
    private static readonly PdfText SmallSoft = new(7, Hex: "#4b5259");

    public async Task<byte[]> DrawAsync(DrawnSheet sheet, CancellationToken cancel = default)
    {
        using var pdf = new PdfSheet(Landscape, sheet.Title, sheet.Shop, sheet.Finished);
        var wide = Landscape.WidthMm - 2 * Margin;
        var foot = Landscape.HeightMm - Margin - pdf.HeightMm(sheet.Foot, SmallSoft, wide);
        var y = Margin;
        y += pdf.Write(sheet.Title, PdfText.Head, Margin, y, wide);
        y += pdf.Write(sheet.Words, PdfText.Body, Margin, y, wide) + 3;
        Foot(pdf, sheet, foot, wide);
        foreach (var row in sheet.Rows)
        {
            foreach (var tiles in row.Tiles.Chunk(Across))
            {
                var column = (wide - (Across - 1) * Gap) / Across;
                var high = Head(pdf, row, wide) + tiles.Max(tile => High(pdf, tile, column));
                if (y + high > foot - 2 && y > 2 * Margin)
                {
                    pdf.NextPage();
                    Foot(pdf, sheet, foot, wide);
                    y = Margin;
                }
                pdf.Line(Margin, y, Margin + wide, y, PdfStroke.Hair);
                y += 2;
                y += pdf.Write(row.Title, PdfText.Lead, Margin, y, wide);
                y += pdf.Write(row.Words, PdfText.Soft, Margin, y, wide) + 1.5;
                var lowest = y;
                for (var i = 0; i < tiles.Length; i++)
                {
                    var end = await TileAsync(pdf, tiles[i], Margin + i * (column + Gap), y, column, cancel);
                    lowest = Math.Max(lowest, end);
                }
                y = lowest + 3;
            }
        }
        return pdf.Save();
    }

    private static void Foot(PdfSheet pdf, DrawnSheet sheet, double y, double wide)
    {
        pdf.Write(sheet.Foot, SmallSoft, Margin, y, wide);
        pdf.Write(
            FormattableString.Invariant($"{sheet.Shop}, page {pdf.Pages}"),
            SmallSoft,
            Margin,
            Landscape.HeightMm - Margin + 1,
            wide,
            PdfAlign.Right
        );
    }

    private static double Head(PdfSheet pdf, DrawnRow row, double wide) =>
        2 + pdf.HeightMm(row.Title, PdfText.Lead, wide) + pdf.HeightMm(row.Words, PdfText.Soft, wide) + 1.5;

    private static double High(PdfSheet pdf, DrawnTile tile, double column) =>
        (tile.Sha256 is null ? 0 : PictureHigh + 1)
        + pdf.HeightMm(tile.Title, PdfText.Strong, column)
        + tile.Lines.Sum(line => pdf.HeightMm(line, Small, column));

    private async Task<double> TileAsync(
        PdfSheet pdf,
        DrawnTile tile,
        double x,
        double y,
        double column,
        CancellationToken cancel
    )
    {
        if (tile.Sha256 is { } sha256)
        {
            pdf.Fill(x, y, column, PictureHigh, "#777777");
            var jpeg = PictureWriter.Jpeg(await files.ReadCheckedAsync(sha256, cancel), MostPixels, Quality);
            pdf.Picture(jpeg, x + 2, y + 2, column - 4, PictureHigh - 4);
            y += PictureHigh + 1;
        }
        y += pdf.Write(tile.Title, PdfText.Strong, x, y, column);
        foreach (var line in tile.Lines)
        {
            y += pdf.Write(line, Small, x, y, column);
        }
        return y;
    }
}
