using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>The marks around the image. Those that register plates are the same bits on every plate of a print.</summary>
internal sealed class FilmMarks(BitPlane zone, OutputDevice device)
{
    private readonly FilmPen _pen = new(zone, device.XDpi, device.YDpi);

    public void Register(double x, double y, FrameTemplate template)
    {
        var half = template.MarkSizeMm / 2;
        _pen.Line(x - half, y, x + half, y, template.MarkLineMm);
        _pen.Line(x, y - half, x, y + half, template.MarkLineMm);
        _pen.Circle(x, y, template.MarkSizeMm / 3, template.MarkLineMm);
    }

    /// <summary>Arrow and words; the arrow points to the top of the print.</summary>
    public void ThisSideUp(double x, double y)
    {
        _pen.Line(x + 3, y, x + 3, y + 8, 0.5);
        _pen.Line(x + 3, y, x + 0.5, y + 3, 0.5);
        _pen.Line(x + 3, y, x + 5.5, y + 3, 0.5);
        _pen.Text(x + 8, y + 2.5, 3.5, "THIS SIDE UP");
    }

    /// <summary>The centre of one image of several, above or below it.</summary>
    public void Tick(double x, double y, double length, double line) => _pen.Line(x, y, x, y + length, line);

    /// <summary>Where the pallet edge lies when the sheet begins above it.</summary>
    public void PalletEdge(double y, double widthMm)
    {
        for (var x = 0.0; x < widthMm; x += 6)
            _pen.Box(x, y, 3, 0.2);
        _pen.Text(2, y + 1, 1.8, "PALLET EDGE");
    }

    /// <summary>From one line of the label to the next.</summary>
    public const double LabelStepMm = 1.6 * LabelHeightMm;

    private const double LabelHeightMm = 2.4;

    /// <summary>How many letters of the label fit beside each other.</summary>
    public static int LabelLetters(double widthMm) =>
        (int)(widthMm / (StrokeFont.Advance * LabelHeightMm / StrokeFont.CapHeight));

    public void Label(double x, double y, IEnumerable<string> lines)
    {
        foreach (var line in lines)
        {
            _pen.Text(x, y, LabelHeightMm, line);
            y += LabelStepMm;
        }
    }

    /// <summary>The square code; modules are whole device pixels, at least <paramref name="leastMm"/> across in all.</summary>
    public void SquareCode(double right, double y, double leastMm, bool[,] modules)
    {
        var count = modules.GetLength(0);
        var (w, h) = (Module(leastMm, count, device.XDpi), Module(leastMm, count, device.YDpi));
        var left = Pixel(right, device.XDpi) - count * w;
        var top = Pixel(y, device.YDpi);
        for (var row = 0; row < count; row++)
        for (var column = 0; column < count; column++)
            if (modules[row, column])
                for (var p = 0; p < h; p++)
                    BitRows.FillRun(zone.Row(top + row * h + p), left + column * w, left + (column + 1) * w);
    }

    /// <summary>200 mm where the film is wide enough, else the longest whole 10 mm; its length is written beside it.</summary>
    public void ScaleBar(double centre, double y, double availableMm)
    {
        var length = Math.Min(200, Math.Floor((availableMm - 16) / 10) * 10);
        var left = centre - length / 2;
        _pen.Box(left, y + 3, length, 0.3);
        for (var mm = 0; mm <= length; mm += 10)
        {
            var major = mm % 50 == 0;
            _pen.Box(left + mm - (mm == 0 ? 0 : 0.15), y + (major ? 0 : 1.5), 0.15, (major ? 3 : 1.5) + 0.1);
            if (major)
                _pen.Text(left + mm - 1, y + 4.2, 1.8, FormattableString.Invariant($"{mm}"));
        }
        _pen.Text(left + length + 2, y + 1, 2, FormattableString.Invariant($"{length} MM"));
    }

    /// <summary>Side of a wedge step.</summary>
    public const double WedgeStepMm = 7.5;

    /// <summary>What a step of the wedge is written with.</summary>
    public static byte WedgeTone(int step, DeviceTones? tones)
    {
        var tone = (byte)((step * 255 + 5) / 10);
        return tones?.Asked(tone) ?? tone;
    }

    /// <summary>
    /// 0 to 100 % in 11 steps, in the plate's own dots and corrected like them; only the frame when the steps are filled as
    /// tones.
    /// </summary>
    public void Wedge(double x, double y, ThresholdTile? tile, DeviceTones? tones)
    {
        const double Step = WedgeStepMm;
        for (var step = 0; step <= 10; step++)
        {
            var tone = WedgeTone(step, tones) * ThresholdTile.StepsPerTone;
            var left = Pixel(x + step * Step, device.XDpi);
            var (right, bottom) = (Pixel(x + (step + 1) * Step, device.XDpi), Pixel(y + Step, device.YDpi));
            for (var row = Pixel(y, device.YDpi); row < bottom; row++)
            for (var column = left; column < right; column++)
                if (tile is not null && tone > tile[column, row])
                    zone[column, row] = true;
            _pen.Text(x + step * Step + 1, y + Step + 1, 1.6, FormattableString.Invariant($"{step * 10}"));
        }
        _pen.Box(x - 0.15, y, 0.15, Step);
        _pen.Box(x, y, 11 * Step, 0.1);
        _pen.Box(x, y + Step - 0.1, 11 * Step, 0.1);
    }

    /// <summary>Thin lines beside the same lines reversed out of a solid: shows over- and underexposure.</summary>
    public void LinePair(double x, double y)
    {
        double[] widths = [0.1, 0.15, 0.2, 0.3, 0.5];
        _pen.Box(x + 20, y, 19, 7.5);
        for (var i = 0; i < widths.Length; i++)
        {
            _pen.Box(x + 1 + 3.5 * i, y, widths[i], 7.5);
            _pen.Ink = false;
            _pen.Box(x + 22 + 3.5 * i, y, widths[i], 7.5);
            _pen.Ink = true;
            _pen.Text(x + 3.5 * i, y + 8.5, 1.1, FormattableString.Invariant($"{widths[i]:.0#}"));
        }
        _pen.Text(x + 20, y + 8.5, 1.1, "MM, LINES AND REVERSED");
    }

    private static int Module(double leastMm, int count, double dpi) =>
        Math.Max(1, (int)Math.Ceiling(leastMm / count * dpi / 25.4));

    private static int Pixel(double mm, double dpi) => (int)Math.Round(mm * dpi / 25.4);
}
