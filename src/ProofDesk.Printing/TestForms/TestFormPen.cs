using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.TestForms;

/// <summary>One plate of the form while it is drawn: lines and letters, tones in the plate's own dots, rings.</summary>
internal sealed class TestFormPen(BitPlane plane, ThresholdTile tile, OutputDevice device)
{
    private readonly double _xPerMm = device.XDpi / 25.4;
    private readonly double _yPerMm = device.YDpi / 25.4;

    public FilmPen Pen { get; } = new(plane, device.XDpi, device.YDpi);

    /// <summary>A tone, 0..1, by the rule of all films: ink where the tone exceeds the threshold.</summary>
    public void Tone(double x, double y, double width, double height, double tone)
    {
        var steps = (int)Math.Round(tone * ThresholdTile.Solid);
        for (var row = Row(y); row < Row(y + height); row++)
        for (var column = Column(x); column < Column(x + width); column++)
            if (steps > tile[column, row])
                plane[column, row] = true;
    }

    /// <summary>
    /// Rings as wide as the gaps between them: their edges run in all directions and cross the film's pixels everywhere, so
    /// neither the film's grid nor the way of the squeegee is in their mean.
    /// </summary>
    public void Rings(double x, double y)
    {
        const double Period = 2 * TestFormLayout.RingMm;
        const double Outer = TestFormLayout.Rings * Period + TestFormLayout.RingMm / 2;
        for (var row = Row(y - Outer); row < Row(y + Outer) + 1; row++)
        for (var column = Column(x - Outer); column < Column(x + Outer) + 1; column++)
        {
            var (px, py) = ((column + 0.5) / _xPerMm - x, (row + 0.5) / _yPerMm - y);
            var radius = Math.Sqrt(px * px + py * py);
            if (radius <= Outer && Math.Abs(radius - Period * Math.Round(radius / Period)) <= TestFormLayout.RingMm / 2)
                plane[column, row] = true;
        }
    }

    public void Taper(double x, double y)
    {
        var (alongX, alongY) = TaperGap.Along;
        var (acrossX, acrossY) = TaperGap.Across;
        var (startX, startY) = (x + TaperGap.Start.X, y + TaperGap.Start.Y);
        var reach = TaperGap.BarMm + TaperGap.LengthMm;
        for (var row = Row(startY - TaperGap.BarMm); row < Row(startY + reach); row++)
        for (var column = Column(startX - TaperGap.BarMm); column < Column(startX + reach); column++)
        {
            var (px, py) = ((column + 0.5) / _xPerMm - startX, (row + 0.5) / _yPerMm - startY);
            var along = px * alongX + py * alongY;
            var across = Math.Abs(px * acrossX + py * acrossY);
            if (
                along is >= 0 and <= TaperGap.LengthMm
                && across <= TaperGap.BarMm
                && across >= TaperGap.GapMm(along) / 2
            )
                plane[column, row] = true;
        }
    }

    private int Column(double x) => Math.Clamp((int)Math.Round(x * _xPerMm), 0, plane.Width);

    private int Row(double y) => Math.Clamp((int)Math.Round(y * _yPerMm), 0, plane.Height);
}
