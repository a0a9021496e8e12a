using System.Diagnostics;
using System.Globalization;
using NetVips;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;

namespace Benchmarks;

/// <summary>
/// A painted picture of 12 x 16 inch at 300 px per inch (3600 x 4800 px), sized art in and plates out, inks chosen and table
/// solved each time; beside libvips' icc_transform of the same picture to four inks, which reads a table that came with the
/// profile and is lcms inside.
/// </summary>
internal static class SeparationBenchmark
{
    private const int Ppi = 300;

    /// <summary>Screens of base and highlight on black; the count that is asked for is of colours.</summary>
    private const int Whites = 2;

    internal static int Run(string[] args)
    {
        var art = Painting(12 * Ppi, 16 * Ppi);
        var small = Painting(120, 160);
        var garment = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder).Garments.First(g => g.Id == "tee");
        var black = new Ground(garment, garment.Colour("black")!);
        var simulated = PrintMethods.Find("simulated-process")!;
        var process = PrintMethods.Find("four-colour-process")!;
        Separate(small, simulated, black, 8);
        var lcms = args.Contains("--no-vips") ? default : Lcms(art.Pixels);
        foreach (var (method, screens) in new[] { (simulated, 6), (simulated, 8), (simulated, 12), (process, 5) })
        {
            var table = Separate(small, method, black, screens);
            var all = Separate(art, method, black, screens);
            Say(
                $"{method.Id}, {screens} screens  {all.Wall, 6:0.00} s   processor {all.Processor:0.00} s, of that inks and table {table.Processor:0.00} s   {all.Megabytes:0} MB above the art"
            );
            if (lcms.Wall > 0)
                Say(
                    $"  against icc_transform  {all.Wall / lcms.Wall, 6:0.00}   of processor time {all.Processor / lcms.Processor:0.00}; pixels alone {(all.Processor - table.Processor) / lcms.Processor:0.00} for {screens / 4.0:0.##} times the plates"
                );
        }
        return 0;
    }

    private static (double Wall, double Processor, double Megabytes) Separate(
        SizedArt art,
        PrintMethod method,
        Ground ground,
        int screens
    )
    {
        var settings = new SpotSettings
        {
            Inks = method.Id == "simulated-process" ? InkChoice.Exactly(screens - Whites) : InkChoice.Automatic,
        };
        GC.Collect();
        using var process = Process.GetCurrentProcess();
        process.Refresh();
        long before = process.WorkingSet64,
            most = before;
        using var watch = new Timer(_ => most = Math.Max(most, WorkingSet()), null, 0, 20);
        var (wall, processor) = Clock(() =>
        {
            var separation = method.Separate(art, method, [ground], settings);
            if (separation.Plates.Length != screens)
                throw new InvalidOperationException($"{separation.Plates.Length} plates of {screens}");
        });
        return (wall, processor, (most - before) / 1e6);

        static long WorkingSet()
        {
            using var self = Process.GetCurrentProcess();
            return self.WorkingSet64;
        }
    }

    private static (double Wall, double Processor) Lcms(RgbaRaster art)
    {
        var codes = new byte[3 * art.Width * art.Height];
        RowLoop.Run(
            art.Height,
            art.Width,
            y =>
            {
                var row = art.Row(y);
                for (var x = 0; x < art.Width; x++)
                for (var c = 0; c < 3; c++)
                    codes[3 * (y * art.Width + x) + c] = (byte)Math.Round(255 * Srgb.Encode(row[4 * x + c] / 65535.0));
            }
        );
        using var rgb = Image.NewFromMemory(codes, art.Width, art.Height, 3, Enums.BandFormat.Uchar);
        using var picture = rgb.Copy(interpretation: Enums.Interpretation.Srgb);
        Transform();
        var measured = Clock(Transform);
        Say($"icc_transform sRGB to four inks {measured.Wall, 6:0.00} s   processor {measured.Processor:0.00} s");
        return measured;

        void Transform()
        {
            using var inks = picture.IccTransform("cmyk", inputProfile: "srgb");
            inks.WriteToMemory<byte>();
        }
    }

    private static (double Wall, double Processor) Clock(Action work)
    {
        using var self = Process.GetCurrentProcess();
        var before = self.TotalProcessorTime;
        var clock = Stopwatch.StartNew();
        work();
        var wall = clock.Elapsed.TotalSeconds;
        self.Refresh();
        return (wall, (self.TotalProcessorTime - before).TotalSeconds);
    }

    /// <summary>Soft shapes in all hues with some grain, so that no two neighbours are alike.</summary>
    private static SizedArt Painting(int width, int height)
    {
        var linear = new ushort[256];
        for (var i = 0; i < 256; i++)
            linear[i] = (ushort)Math.Round(65535 * Srgb.Decode(i / 255.0));
        var art = new RgbaRaster(width, height);
        RowLoop.Run(
            height,
            width,
            y =>
            {
                var row = art.Row(y);
                for (var x = 0; x < width; x++)
                {
                    var (u, v) = (x / (double)width, y / (double)height);
                    var grain = SeededNoise.Uniform(5, x, y) - 0.5;
                    row[4 * x] = Code(0.5 + 0.45 * Math.Sin(5 * u + 3 * v), grain);
                    row[4 * x + 1] = Code(0.5 + 0.4 * Math.Sin(9 * v - 2 * u), grain);
                    row[4 * x + 2] = Code(0.5 + 0.4 * Math.Cos(7 * u * v + 4 * u), grain);
                    row[4 * x + 3] = 65535;
                }

                ushort Code(double code, double grain) => linear[(int)(255 * Math.Clamp(code + 0.04 * grain, 0, 1))];
            }
        );
        var artwork = new Artwork(
            art,
            new("png", width, height, 8, "rgb", null, false, false),
            new string('0', 64),
            []
        );
        return new(art, 12 * 25.4, 12 * 25.4 * height / width, artwork, 0, 0, []);
    }

    private static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
