using System.Diagnostics;
using System.Globalization;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace Benchmarks;

/// <summary>Six plates of 12 x 16 inch at 1440 dpi to 1-bit Group 4 TIFFs: ours, and Ghostscript's tiffsep1 on the same plates.</summary>
internal static class ScreeningBenchmark
{
    internal static int Run(string[] args)
    {
        var folder = Directory.CreateTempSubdirectory("screening-").FullName;
        try
        {
            var separation = SixPlates.Make(16);
            Films(separation, folder); // warm: compile, fill the tile's patterns
            var (seconds, processor, peak) = Films(separation, folder);
            var megabytes = Directory.GetFiles(folder, "*.tif").Sum(f => new FileInfo(f).Length) / 1e6;
            Say(
                $"ours, 12 x 16 inch      {seconds, 7:0.00} s   processor {processor:0.00} s   {megabytes:0.0} MB of TIFF"
            );

            var (_, _, twice) = Films(SixPlates.Make(32), folder);
            Say($"memory above the plates {peak, 7:0} MB at 16 inch, {twice:0} MB at 32 inch");
            if (!args.Contains("--no-gs"))
            {
                var (other, otherProcessor) = Ghostscript(separation, folder);
                Say(
                    $"Ghostscript tiffsep1    {other, 7:0.00} s   processor {otherProcessor:0.00} s   ratio {other / seconds:0.0}, of processor time {otherProcessor / processor:0.0}"
                );
            }
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }

        static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
    }

    private static (double Seconds, double Processor, double PeakMegabytes) Films(Separation separation, string folder)
    {
        using var process = Process.GetCurrentProcess();
        GC.Collect();
        process.Refresh();
        long before = process.WorkingSet64,
            most = before;
        using var watch = new Timer(_ => most = Math.Max(most, WorkingSet()), null, 0, 20);
        var processor = process.TotalProcessorTime;
        var clock = Stopwatch.StartNew();
        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        foreach (var film in films.Plates)
        {
            using var file = File.Create(Path.Combine(folder, $"{film.Plate.Name}.tif"));
            G4Tiff.Write(
                file,
                film.Width,
                film.Height,
                new(films.Device.XDpi, films.Device.YDpi, film.Plate.Name, "ProofDesk benchmark"),
                film.ReadRows
            );
        }
        clock.Stop();
        process.Refresh();
        return (
            clock.Elapsed.TotalSeconds,
            (process.TotalProcessorTime - processor).TotalSeconds,
            (most - before) / 1e6
        );

        static long WorkingSet()
        {
            using var self = Process.GetCurrentProcess();
            return self.WorkingSet64;
        }
    }

    private static (double Seconds, double Processor) Ghostscript(Separation separation, string folder)
    {
        var pdf = Path.Combine(folder, "plates.pdf");
        using (var file = File.Create(pdf))
            SeparationImagesPdf.Write(file, separation);
        var clock = Stopwatch.StartNew();
        using var gs = Process.Start(
            new ProcessStartInfo(
                "gs",
                [
                    "-q",
                    "-dNOPAUSE",
                    "-dBATCH",
                    "-dSAFER",
                    "-sDEVICE=tiffsep1",
                    "-r1440",
                    "-o",
                    Path.Combine(folder, "gs-%d.tif"),
                    pdf,
                ]
            )
            {
                RedirectStandardOutput = true,
                UseShellExecute = false,
            }
        )!;
        var said = gs.StandardOutput.ReadToEndAsync();
        var processor = TimeSpan.Zero;
        while (!gs.WaitForExit(200))
        {
            try
            {
                gs.Refresh();
                processor = gs.TotalProcessorTime;
            }
            catch (InvalidOperationException)
            {
                // It ended between the two lines; what was read last is near enough.
            }
        }
        said.Wait();
        if (gs.ExitCode != 0)
            throw new InvalidOperationException($"gs ended with {gs.ExitCode}");
        return (clock.Elapsed.TotalSeconds, processor.TotalSeconds);
    }
}
