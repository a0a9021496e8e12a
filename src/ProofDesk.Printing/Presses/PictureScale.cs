using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// How film pixels gather into square picture pixels ("cells"): whole numbers of film pixels across and down.
/// </summary>
/// <param name="XDpi">Film, dots per inch across.</param>
/// <param name="CellWidth">Film pixels across a cell.</param>
internal readonly record struct PictureScale(double XDpi, double YDpi, int CellWidth, int CellHeight)
{
    private const double WantedDpi = 240;
    private const double Coarsest = 200.0 / 240;
    private const double Finest = 300.0 / 240;

    /// <summary>Office printers write 360 dpi: half of it is too coarse for a picture, so theirs is drawn pixel for pixel.</summary>
    private const double CoarseDeviceDpi = 400;

    /// <summary>Larger than any carousel press prints: a whole garment, which is looked at from further away.</summary>
    private const double LargeWidthMm = 500;
    private const double LargeHeightMm = 650;

    public double XPixelsPerMm => XDpi / 25.4;
    public double YPixelsPerMm => YDpi / 25.4;

    /// <summary>Picture pixels per millimetre.</summary>
    public double CellsPerMm => XPixelsPerMm / CellWidth;

    public double CellMm => 1 / CellsPerMm;

    /// <summary>Geometric mean of a film pixel's sides, um: what a radius in um is measured with.</summary>
    public double PixelUm => 25400 / Math.Sqrt(XDpi * YDpi);

    /// <summary>About 240 dpi; between 200 and 300 wherever the device allows it.</summary>
    /// <exception cref="ArgumentException">No whole numbers of device pixels make a square.</exception>
    public static PictureScale Of(OutputDevice device) => Of(device, WantedDpi);

    /// <summary>The same; a print of a whole garment is drawn at half of it, or its picture would not fit in memory.</summary>
    public static PictureScale Of(Films films)
    {
        var isLarge =
            films.Width / films.Device.XDpi * 25.4 > LargeWidthMm
            || films.Height / films.Device.YDpi * 25.4 > LargeHeightMm;
        return Of(films.Device, isLarge ? WantedDpi / 2 : WantedDpi);
    }

    private static PictureScale Of(OutputDevice device, double wanted)
    {
        PictureScale? best = null;
        var least = double.MaxValue;
        var stretch = Math.Abs(device.XStretchPercent - device.YStretchPercent) / 100;
        for (var across = 1; across <= 32; across++)
        for (var down = 1; down <= 32; down++)
        {
            var (x, y) = (device.XDpi / across, device.YDpi / down);
            // One part in a thousand is the scale error a film may have (common practice); a stretch that differs across
            // and down leaves the picture's squares off by as much, which no eye sees.
            if (Math.Abs(x - y) > (1e-3 + stretch) * x || x < Coarsest * wanted - 0.5)
                continue;
            var miss = Math.Abs(Math.Log(x / wanted));
            if (miss < least)
                (least, best) = (miss, new(device.XDpi, device.YDpi, across, down));
        }
        var finest = Math.Max(Finest * wanted, device.XDpi <= CoarseDeviceDpi ? device.XDpi : device.XDpi / 2);
        if (best is not { } scale || device.XDpi / scale.CellWidth > finest + 0.5)
            throw new ArgumentException(
                $"device \"{device.Name}\" writes {device.XDpi} x {device.YDpi} dpi: no whole numbers of its dots make a square of 1/300 to 1/200 inch; check the two numbers in the device's record"
            );
        return scale;
    }
}
