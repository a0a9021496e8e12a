using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.TestForms.TestFormLayout;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// What the screens hold: the ladder and the pale end of the wedge are printed by the very model of lost dots with limits scaled
/// up and down, and the scale whose print reads as the shop's did is the shop's.
/// </summary>
internal sealed class HeldFit
{
    private const double Least = 0.5;
    private const double Most = 2;
    private const double Step = 0.05;
    private const int PaleSteps = 8;

    private readonly List<(double Scale, int? Line, int? Tone)> _prints = [];

    public HeldFit(TestFormSettings form)
    {
        var device = form.Device;
        var pixelUm = 25400 / Math.Sqrt(device.XDpi * device.YDpi);
        var width = (int)(LinesUm.Length * StepWidth * device.XDpi / 25.4) / 64 * 64;
        var height = (int)(6 * device.YDpi / 25.4);
        // A thin line is one or two film pixels wide as it falls on the grid: here as on the form.
        var left = new TestFormLayout(form).Blocks[0].X;
        var phase = left - Math.Floor(left * device.XDpi / 25.4) * 25.4 / device.XDpi;
        var tile = ThresholdArray.For(new Screen(form.Ruling, 22.5, DotShape.Euclidean), device).Tile;
        var noise = LostDots.Noise(1, pixelUm);
        for (var scale = Least; scale <= Most + 1e-9; scale += Step)
        {
            var lost = LostDots.Of(form.Mesh, scale, pixelUm, noise);
            var film = new BitPlane(width, height + 2 * lost.HaloRows);
            var pen = new TestFormPen(film, tile, device);
            var tall = film.Height / device.YDpi * 25.4;
            for (var i = 0; i < LinesUm.Length; i++)
                pen.Pen.Box(phase + (i + 0.5) * StepWidth - LinesUm[i] / 2000.0, 0, LinesUm[i] / 1000.0, tall);
            var lines = Shares(film, lost, height, LinesUm.Length, device);
            Array.Clear(film.Words);
            for (var i = 0; i < PaleSteps; i++)
                pen.Tone(i * StepWidth, 0, StepWidth, tall, StepsPercent[i] / 100.0);
            var tones = Shares(film, lost, height, PaleSteps, device);
            _prints.Add((scale, First(lines), First(tones)));
        }
    }

    /// <summary>The scale that reads so, the middle of all that do; null when none does.</summary>
    public double? FromLine(double lineUm) => Middle(p => p.Line is { } i && Math.Abs(LinesUm[i] - lineUm) < 1e-6);

    public double? FromStep(double percent) =>
        Middle(p => p.Tone is { } i && Math.Abs(StepsPercent[i] - percent) < 1e-6);

    private double? Middle(Func<(double Scale, int? Line, int? Tone), bool> reads)
    {
        var fitting = _prints.Where(reads).Select(p => p.Scale).ToList();
        return fitting.Count == 0 ? null : (fitting[0] + fitting[^1]) / 2;
    }

    private static int? First(double[] shares)
    {
        int? first = null;
        for (var i = shares.Length - 1; i >= 0 && shares[i] >= 0.5; i--)
            first = i;
        return first;
    }

    /// <summary>Share of the ink of each step that is still there.</summary>
    private static double[] Shares(BitPlane film, LostDots lost, int height, int count, OutputDevice device)
    {
        var kept = new BitPlane(film.Width, height);
        var core = new BitPlane(film.Width, height + 2 * lost.RegrowRows);
        lost.Print(film, kept, core, new DiscRows(), 0, 0, 1);
        var shares = new double[count];
        for (var i = 0; i < count; i++)
        {
            var (from, to) = (
                (int)(i * StepWidth * device.XDpi / 25.4),
                (int)((i + 1) * StepWidth * device.XDpi / 25.4)
            );
            long before = 0,
                after = 0;
            for (var y = 0; y < height; y++)
            for (var x = from; x < Math.Min(to, film.Width); x++)
            {
                before += film[x, y + lost.HaloRows] ? 1 : 0;
                after += kept[x, y] ? 1 : 0;
            }
            shares[i] = before == 0 ? 0 : (double)after / before;
        }
        return shares;
    }
}
