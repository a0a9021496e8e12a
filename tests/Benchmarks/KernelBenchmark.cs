using System.Diagnostics;
using System.Globalization;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace Benchmarks;

/// <summary>Film pixels a second of each kernel on a 17,280 px wide film, all cores, the best of five; and film pixels a second of
/// processor time, which another program on the machine disturbs less.</summary>
internal static class KernelBenchmark
{
    private const int Width = 17280;
    private const int Rows = 4096;

    internal static int Run()
    {
        var array = ThresholdArray.For(new(55, 22.5, DotShape.Euclidean), OutputDevice.Fallback);
        var gradient = new BytePlane(Width * 10 / 48, Rows * 10 / 48);
        for (var y = 0; y < gradient.Height; y++)
        for (var x = 0; x < gradient.Width; x++)
            gradient[x, y] = (byte)((x * 3 + y) % 256);
        var flat = new BytePlane(1, 1, [128]);
        var dots = new BitPlane(Width, Rows);

        Read("tone, interpolated", new(gradient, null, array.Tile, Width, Rows));
        Read("tone, constant", new(flat, null, array.Tile, Width, Rows));
        Read("outline everywhere", new(new BytePlane(1, 1, [255]).Sized(gradient), gradient, array.Tile, Width, Rows));
        var halftone = new HalftoneRows(gradient, null, array.Tile, Width, Rows);
        RowLoop.RunBands(Rows, 16, (top, count) => Copy(halftone, top, count, dots));

        var target = new BitPlane(Width, Rows);
        foreach (var radius in new[] { 1.0, 2, 3, 5, 8, 12 })
        {
            var disc = Disc.Within(radius);
            Measure($"dilate, disc of {radius} px", () => Morphology.Dilate(dots, target, 0, disc));
        }
        var growth = new InkGrowth(25 / 17.64, 0, 0, 1);
        Measure("growth of 25 um", () => growth.Grow(dots, target, 0, 0));
        var ragged = new InkGrowth(25 / 17.64, 6 / 17.64, 20, 1);
        Measure("growth of 25 um, ragged by 6 um", () => ragged.Grow(dots, target, 0, 0));
        var open = Disc.Within(3);
        Measure("opening, disc of 3 px", () => Morphology.Open(dots, target, 0, open));
        var shift = PlaneShift.Register(3.3, -2.1, 0.0003, 1.0004, 0.9997, Width / 2.0, Rows / 2.0);
        Measure("out of register, turned and stretched", () => shift.Fetch(dots, 0, target, 0));
        Measure("average of 6 x 6", () => BitAverage.Boxes(dots, 6, 6));
        Measure("count of ink", () => BitRows.CountInk(dots));
        Measure(
            "Group 4, halftone",
            () =>
                RowLoop.RunBands(
                    Rows,
                    256,
                    (top, count) =>
                    {
                        var encoder = new CcittG4Encoder(Width);
                        for (var y = top; y < top + count; y++)
                            encoder.Append(dots.Row(y));
                        encoder.Finish();
                    }
                )
        );
        return 0;

        void Read(string name, HalftoneRows rows) =>
            Measure(
                $"screening: {name}",
                () => RowLoop.RunBands(Rows, 16, (top, count) => Copy(rows, top, count, null))
            );
    }

    private static void Copy(HalftoneRows rows, int top, int count, BitPlane? target)
    {
        var band = new BitPlane(Width, count);
        rows.Read(top, band);
        band.Words.CopyTo(target is null ? new ulong[band.Words.Length] : target.Words.AsSpan(top * band.Stride));
    }

    private static BytePlane Sized(this BytePlane plane, BytePlane like) =>
        Resample.Enlarge(plane, like.Width, like.Height);

    private static void Measure(string name, Action work)
    {
        work();
        var best = double.PositiveInfinity;
        var processor = double.PositiveInfinity;
        for (var i = 0; i < 5; i++)
        {
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            var clock = Stopwatch.StartNew();
            work();
            best = Math.Min(best, clock.Elapsed.TotalSeconds);
            var spent = Process.GetCurrentProcess().TotalProcessorTime - before;
            processor = Math.Min(processor, spent.TotalSeconds);
        }
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{name, -48} {Width * (double)Rows / best / 1e9, 7:0.00} Gpx/s {Width * (double)Rows / processor / 1e9, 7:0.00} a core"
            )
        );
    }
}
