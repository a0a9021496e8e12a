using System.Diagnostics;
using System.Globalization;
using NetVips;
using ProofDesk.Imaging.Rasters;

namespace Benchmarks;

/// <summary>
/// The reference of a proof: six plates of the same art size enlarged linearly to 1440 dpi, cut at a threshold and
/// averaged back in boxes of 6 x 6, by libvips on all cores. No screen, no growth, no ink on cloth: the least anyone
/// does who really goes through film pixels.
/// </summary>
internal static class VipsPrint
{
    internal static void Compare((double Wall, double Processor) ours)
    {
        var planes = SixPlates.Make(16).Plates.Select(p => p.Shape ?? p.Tone).ToArray();
        Print(planes[0]);
        using var self = Process.GetCurrentProcess();
        var before = self.TotalProcessorTime;
        var clock = Stopwatch.StartNew();
        foreach (var plane in planes)
            Print(plane);
        var wall = clock.Elapsed.TotalSeconds;
        self.Refresh();
        var processor = (self.TotalProcessorTime - before).TotalSeconds;
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"libvips, six plates to film size, cut and back {wall:0.00} s, processor {processor:0.00} s; a whole warm flat proof of ours takes {ours.Wall / wall:0.00} of that, {ours.Processor / processor:0.00} of its processor time"
            )
        );
    }

    private static void Print(BytePlane plane)
    {
        using var plate = Image.NewFromMemory(plane.Pixels, plane.Width, plane.Height, 1, Enums.BandFormat.Uchar);
        using var film = plate.Resize(1440.0 / SixPlates.Ppi, kernel: Enums.Kernel.Linear);
        using var dots = film > 127;
        using var picture = dots.Shrink(6, 6);
        picture.WriteToMemory<byte>();
    }
}
