using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>How much foil a run needs, from the adhesive's film bits: one sheet a print, its inked extent and a rim to hold it by.</summary>
public static class FoilFiles
{
    /// <summary>Foil beyond the print at each side (common practice).</summary>
    public const double RimMm = 10;

    private const int BandRows = 256;

    public static ImmutableArray<ProductionFile> Of(Proof proof)
    {
        var sheets = InkListMaker.Prints(proof.Request.Quantity);
        var csv = new StringBuilder(
            "plate,foil,adhesive area cm2,sheet width mm,sheet height mm,sheet area cm2,sheets with spoilage,foil m2\r\n"
        );
        for (var i = 0; i < proof.Films.Plates.Length; i++)
        {
            var film = proof.Films.Plates[i];
            if (Extent(film, proof.Films.Device) is not var (width, height))
                continue;
            var (sheetWidth, sheetHeight) = (width + 2 * RimMm, height + 2 * RimMm);
            csv.AppendJoin(
                    ',',
                    InkListCsv.Text(film.Plate.Name),
                    InkListCsv.Text(film.Plate.Ink.Name),
                    Number(proof.Measures[i].AreaCm2),
                    Number(sheetWidth),
                    Number(sheetHeight),
                    Number(sheetWidth * sheetHeight / 100),
                    sheets.ToString(CultureInfo.InvariantCulture),
                    Number(sheetWidth * sheetHeight / 1e6 * sheets)
                )
                .Append("\r\n");
        }
        return [new ProductionText("foil-sheet.csv", "text/csv", csv.ToString())];
    }

    /// <summary>Width and height of everything inked, mm; null for an empty film.</summary>
    private static (double WidthMm, double HeightMm)? Extent(Film film, OutputDevice device)
    {
        var (left, right, top, bottom) = (int.MaxValue, -1, int.MaxValue, -1);
        for (var first = 0; first < film.Height; first += BandRows)
        {
            var band = new BitPlane(film.Width, Math.Min(BandRows, film.Height - first));
            film.ReadRows(first, band);
            for (var y = 0; y < band.Height; y++)
            {
                var row = band.Row(y);
                var word = row.IndexOfAnyExcept(0UL);
                if (word < 0)
                    continue;
                var last = row.LastIndexOfAnyExcept(0UL);
                left = Math.Min(left, 64 * word + System.Numerics.BitOperations.TrailingZeroCount(row[word]));
                right = Math.Max(right, 64 * last + 63 - System.Numerics.BitOperations.LeadingZeroCount(row[last]));
                (top, bottom) = (Math.Min(top, first + y), first + y);
            }
        }
        return right < 0 ? null : ((right - left + 1) * 25.4 / device.XDpi, (bottom - top + 1) * 25.4 / device.YDpi);
    }

    private static string Number(double value) =>
        Math.Round(value, 1, MidpointRounding.AwayFromZero).ToString("0.#", CultureInfo.InvariantCulture);
}
