using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.TestForms.TestFormLayout;

namespace ProofDesk.Printing.TestForms;

/// <summary>Reads one block of a scan: growth on its rings, wedge, ladders, solid.</summary>
internal sealed class BlockScan
{
    private readonly FormScan _scan;
    private readonly TestFormSettings _form;
    private readonly FormBlock _block;
    private readonly LinearRgb _solid;
    private readonly LinearRgb _under;
    private readonly int _channel;

    public BlockScan(FormScan scan, TestFormSettings form, FormBlock block)
    {
        (_scan, _form, _block) = (scan, form, block);
        const double Rim = 1.5;
        _solid = scan.Mean(
            block.X + SolidLeft + Rim,
            block.Y + SolidTop + Rim,
            SolidWidth - 2 * Rim,
            SolidHeight - 2 * Rim
        );
        // Between the solid and the taper nothing is printed.
        _under = scan.Mean(block.X + SolidLeft + SolidWidth + 0.9, block.Y + SolidTop + 8, 3.2, SolidHeight - 10);
        _channel = Enumerable.Range(0, 3).MaxBy(c => Math.Abs(At(_solid, c) - At(_under, c)));
    }

    public Lab SolidLab => Srgb.ToLab(_solid);

    /// <summary>Can anything be seen here at all?</summary>
    public bool Shows => Math.Abs(At(_solid, _channel) - At(_under, _channel)) > 0.06;

    public BlockReading Read()
    {
        var growth = GrowthUm();
        var tones = Tones(growth);
        var held = FirstOfLast(StepsPercent.Length, i => tones[i].Share >= 0.5);
        var open = Enumerable.Range(0, StepsPercent.Length).Where(i => tones[i].Tone < 0.985);
        var (lines, gaps) = (Widths(LinesTop, of: 1), Widths(GapsTop, of: 0));
        // What the widest lines show beyond their own width is growth and the shadow beside it; a thin line that is there
        // shows as much.
        var beyond = Enumerable.Range(LinesUm.Length - 4, 4).Average(i => lines[i] - LinesUm[i]);
        var line = FirstOfLast(LinesUm.Length, i => lines[i] >= 0.5 * (LinesUm[i] + beyond));
        var gap = FirstOfLast(LinesUm.Length, i => gaps[i] >= Math.Max(10, 0.1 * LinesUm[i]));
        return new(
            _form.Inks[_block.Plate].Id,
            _block.Under,
            held is { } h ? StepsPercent[h] : null,
            open.Any() ? StepsPercent[open.Last()] : null,
            line is { } l ? LinesUm[l] : null,
            gap is { } g ? LinesUm[g] : null,
            Math.Round(growth, 1),
            ReadBy.Scan
        );
    }

    /// <summary>Mean over all edge directions.</summary>
    public double GrowthUm()
    {
        var (x, y) = (_block.X + RingsX, _block.Y + RingsY);
        const double Reach = 2 * RingMm * Rings + RingMm;
        var pixels = new List<RingPixel>();
        _scan.Each(
            x - Reach,
            y - Reach,
            2 * Reach,
            2 * Reach,
            (px, py, c) => pixels.Add(new(px - x, py - y, At(c, _channel)))
        );
        return RingFit.Growth(RingProfile.Of(pixels), 1000 / _scan.PixelsPerMm, _form.Cloth == FormCloth.Pale).GrowthUm;
    }

    /// <summary>
    /// Printed tone of each step and its share of what the film's dots, grown, should cover. The shadow around dots is
    /// taken off with the Yule-Nielsen n ([YULE-NIELSEN-1951]) that makes the middle steps right: their dots are all there.
    /// </summary>
    private (double Tone, double Share)[] Tones(double growthUm)
    {
        var compensation = new ToneCompensation(_form.Ruling, Math.Max(0, growthUm), Screening.DotShape.Euclidean);
        var expected = StepsPercent.Select(s => compensation.Printed(s / 100.0)).ToArray();
        var light = new double[expected.Length];
        for (var i = 0; i < light.Length; i++)
            light[i] = At(
                _scan.Mean(_block.X + i * StepWidth + 1, _block.Y + WedgeTop + 1, StepWidth - 2, WedgeHeight - 2),
                _channel
            );
        int[] middle = [StepsPercent.IndexOf(20), StepsPercent.IndexOf(30)];
        var n = Enumerable
            .Range(0, 61)
            .Select(i => 0.8 + i * 0.05)
            .MinBy(n => middle.Sum(i => Math.Abs(Tone(light[i], n) - expected[i])));
        return [.. light.Select((r, i) => (Tone(r, n), Tone(r, n) / expected[i]))];
    }

    private double Tone(double light, double n)
    {
        double Root(double v) => Math.Pow(Math.Max(1e-4, v), 1 / n);
        var (under, solid) = (Root(At(_under, _channel)), Root(At(_solid, _channel)));
        return (under - Root(light)) / (under - solid);
    }

    /// <summary>Width in um of each line or gap of a ladder, by the light it takes or gives.</summary>
    /// <param name="of">1 = ink in the gap between two lines, 0 = cloth in the solid.</param>
    private double[] Widths(double top, int of)
    {
        var widths = new double[LinesUm.Length];
        for (var i = 0; i < widths.Length; i++)
        {
            var window = LinesUm[i] / 1000.0 + 1.4;
            var light = At(
                _scan.Mean(
                    _block.X + (i + 0.5) * StepWidth - window / 2,
                    _block.Y + top + 1.2,
                    window,
                    LinesHeight - 2.4
                ),
                _channel
            );
            var ink = (At(_under, _channel) - light) / (At(_under, _channel) - At(_solid, _channel));
            widths[i] = 1000 * window * (of == 1 ? ink : 1 - ink);
        }
        return widths;
    }

    /// <summary>The first of the unbroken row of good ones at the end.</summary>
    private static int? FirstOfLast(int count, Func<int, bool> good)
    {
        int? first = null;
        for (var i = count - 1; i >= 0 && good(i); i--)
            first = i;
        return first;
    }

    private static double At(LinearRgb c, int channel) => FormScan.Channel(c, channel);
}
