using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// The order in which the film pixels of a screen get ink. A supercell of up to 4 x 4 dots (8 x 8 on coarse devices) with
/// integer corners comes as near to the wanted ruling and angle as the device's pixels allow; its pixels are ranked by the dot's shape and each
/// rank occurs once, so tones are exact: an 8-bit tone t inks t / 255 of the supercell, rounded to one pixel.
/// The same screen and device give the same array with the same phase: plates of one angle print dot on dot.
/// </summary>
public sealed class ThresholdArray
{
    /// <summary>Up to here the nearest supercell is taken (physics 1.13).</summary>
    private const int UsualCells = 4;

    /// <summary>Fine screens on coarse devices may need more cells a side.</summary>
    private const int MostCells = 8;

    /// <summary>0.4 % of the ruling or 0.23 degrees: below what a mesh and a press hold.</summary>
    private const double NearEnough = 0.004;

    private ThresholdArray(Supercell cell, Screen screen, double xDpi, double yDpi)
    {
        (Screen, Cell) = (screen, cell);
        (TrueLinesPerInch, TrueAngleDegrees) = cell.Ruling(xDpi, yDpi);
        Tile = cell.Tile(screen.Dot);
    }

    private ThresholdArray(Screen screen, ThresholdTile tile, double dotsPerInch)
    {
        (Screen, Tile, TrueLinesPerInch) = (screen, tile, dotsPerInch);
        Cell = new(1, tile.Width, 0, 0, tile.Height);
    }

    public Screen Screen { get; }

    /// <summary>Ruling the device really gets.</summary>
    public double TrueLinesPerInch { get; }

    /// <summary>Angle the device really gets, degrees counter-clockwise as one looks at the film.</summary>
    public double TrueAngleDegrees { get; }

    /// <summary>The thresholds.</summary>
    public ThresholdTile Tile { get; }

    internal Supercell Cell { get; }

    /// <summary>The array of a screen on a device.</summary>
    public static ThresholdArray For(Screen screen, double xDpi, double yDpi)
    {
        var needed = screen.IsStochastic ? 0.5 : 2;
        if (!(screen.LinesPerInch > 0) || !(Math.Min(xDpi, yDpi) / screen.LinesPerInch >= needed))
            throw new ArgumentException(
                $"a screen of {screen.LinesPerInch} lpi needs at least {needed} device pixels a line; the device has {xDpi} x {yDpi} dpi"
            );
        if (screen.IsStochastic)
        {
            var (across, down) = (DotPixels(xDpi), DotPixels(yDpi));
            return new(screen, StochasticDots.Tile(across, down, screen.Variant), xDpi / across);
        }
        return new(Best(screen, xDpi, yDpi), screen, xDpi, yDpi);

        int DotPixels(double dpi) => Math.Max(1, (int)Math.Round(dpi / screen.LinesPerInch));
    }

    /// <summary>Ruling and angle that a screen of dots really gets, without making its thresholds.</summary>
    public static (double LinesPerInch, double AngleDegrees) TrueRuling(Screen screen, double xDpi, double yDpi) =>
        Best(screen, xDpi, yDpi).Ruling(xDpi, yDpi);

    private static Supercell Best(Screen screen, double xDpi, double yDpi)
    {
        var best = Supercell.Nearest(screen, xDpi, yDpi, 1);
        for (var cells = 2; cells <= MostCells; cells++)
        {
            if (cells > UsualCells && best.Error(screen, xDpi, yDpi) <= NearEnough)
                break;
            var candidate = Supercell.Nearest(screen, xDpi, yDpi, cells);
            if (candidate.Error(screen, xDpi, yDpi) < best.Error(screen, xDpi, yDpi))
                best = candidate;
        }
        return best;
    }

    /// <summary>The array of a screen on a device.</summary>
    public static ThresholdArray For(Screen screen, OutputDevice device) => For(screen, device.XDpi, device.YDpi);

    /// <summary>
    /// Tones one cell can show: floor of the pixels in a cell + 1 (physics 1.13). Fewer than 256 lose steps of 8-bit art.
    /// </summary>
    public static int Tones(double linesPerInch, double xDpi, double yDpi) =>
        (int)Math.Floor(xDpi / linesPerInch * (yDpi / linesPerInch) + 1e-9) + 1;
}
