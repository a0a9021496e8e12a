using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>Lays the shirts of a run out: six a row, number and loading square under each.</summary>
internal static class RunStripSheet
{
    private const int Across = 6;
    private const int Gap = 8;
    private const int Gauge = 26;
    private const byte Paper = 246;
    private const byte Line = 70;

    /// <summary>Half a side of the square: +-15 mm.</summary>
    private const double SquareMm = 15;

    public static RgbPicture LayOut(RgbPicture[] shirts, ImmutableArray<ShirtOfRun> run)
    {
        var cell = shirts[0];
        var (stepX, stepY) = (cell.Width + Gap, cell.Height + Gauge + 2 * Gap);
        var down = (shirts.Length + Across - 1) / Across;
        var sheet = new RgbPicture(Across * stepX + Gap, down * stepY + Gap, cell.PixelsPerMm);
        sheet.Pixels.AsSpan().Fill(Paper);
        var marks = new BitPlane(sheet.Width, sheet.Height);
        // A pen that measures in pixels.
        var pen = new FilmPen(marks, 25.4, 25.4);
        for (var i = 0; i < shirts.Length; i++)
        {
            var (x, y) = (Gap + i % Across * stepX, Gap + i / Across * stepY);
            for (var row = 0; row < cell.Height; row++)
                shirts[i].Row(row).CopyTo(sheet.Row(y + row)[(3 * x)..]);
            Loading(pen, x + cell.Width - Gauge, y + cell.Height + Gap / 2, run[i]);
            pen.Text(
                x + 1,
                y + cell.Height + Gap / 2 + 8,
                11,
                run[i].Number.ToString(System.Globalization.CultureInfo.InvariantCulture)
            );
        }
        for (var y = 0; y < sheet.Height; y++)
        {
            var row = sheet.Row(y);
            for (var x = 0; x < sheet.Width; x++)
                if (marks[x, y])
                    row.Slice(3 * x, 3).Fill(Line);
        }
        return sheet;
    }

    /// <summary>The square is a little wider than the loading tolerance; the mark slants with the shirt, three times as much.</summary>
    private static void Loading(FilmPen pen, double x, double y, ShirtOfRun shirt)
    {
        pen.Line(x, y, x + Gauge, y, 1);
        pen.Line(x, y + Gauge, x + Gauge, y + Gauge, 1);
        pen.Line(x, y, x, y + Gauge, 1);
        pen.Line(x + Gauge, y, x + Gauge, y + Gauge, 1);
        var perMm = Gauge / 2.0 / SquareMm;
        var (cx, cy) = (x + Gauge / 2.0 + shirt.LoadedRightMm * perMm, y + Gauge / 2.0 + shirt.LoadedDownMm * perMm);
        var (sin, cos) = Math.SinCos(3 * shirt.LoadedDegrees * Math.PI / 180);
        var (dx, dy) = (cos * Gauge / 6, sin * Gauge / 6);
        pen.Line(cx - dx, cy - dy, cx + dx, cy + dy, 2.5);
    }
}
