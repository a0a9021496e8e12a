using System.Diagnostics;
using System.Globalization;
using NetVips;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace Benchmarks;

/// <summary>libvips' icc_transform (lcms inside) of a picture to four inks: sRGB of icc-profiles-free where it is installed, and libvips' own CMYK.</summary>
internal static class VipsInks
{
    private const string FreeSrgb = "/usr/share/color/icc/sRGB.icc";

    /// <returns>Seconds, wall and processor, the better of two runs after one that warms up.</returns>
    internal static (double Wall, double Processor) Measure(RgbaRaster art)
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
        var profile = File.Exists(FreeSrgb) ? FreeSrgb : "srgb";
        using var rgb = Image.NewFromMemory(codes, art.Width, art.Height, 3, Enums.BandFormat.Uchar);
        using var picture = rgb.Copy(interpretation: Enums.Interpretation.Srgb);
        Transform();
        var measured = Clock(Transform);
        var again = Clock(Transform);
        measured = again.Wall < measured.Wall ? again : measured;
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Environment.ProcessorCount} cores; icc_transform of {art.Width} x {art.Height} px, {Path.GetFileName(profile)} to four inks {measured.Wall:0.00} s, processor {measured.Processor:0.00} s"
            )
        );
        return measured;

        void Transform()
        {
            using var inks = picture.IccTransform("cmyk", inputProfile: profile);
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
}
