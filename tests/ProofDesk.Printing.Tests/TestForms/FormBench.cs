using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Printing.Tests.TestForms;

/// <summary>Small makers for test forms: forms, prints of them, and a flat-bed scan of a print.</summary>
internal static class FormBench
{
    public static OutputDevice Device(double dpi) => OutputDevice.Fallback with { XDpi = dpi, YDpi = dpi };

    public static TestFormSettings Settings(FormCloth cloth, string mesh, params string[] colours) =>
        new(Meshes.Find(mesh)!, InkLibrary.Find("white")!, [.. colours.Select(c => InkLibrary.Find(c)!)], cloth);

    /// <summary>
    /// The print as a flat-bed scanner sees it: looked at dot by dot, averaged to <paramref name="ppi"/> in linear light, with
    /// noise on each channel.
    /// </summary>
    /// <param name="noise">One sigma, in 8-bit steps.</param>
    public static RgbPicture Scan(
        TestForm form,
        GroundPlan plan,
        PressSettings press,
        ulong seed,
        int ppi = 400,
        double noise = 1.5,
        double marginMm = 5
    )
    {
        var step = (int)form.Films.Device.XDpi / ppi;
        var perMm = form.Films.Device.XDpi / 25.4;
        var (left, top) = ((int)(-marginMm * perMm / step), (int)(-marginMm * perMm / step));
        var width = (int)((TestFormLayout.WidthMm + 2 * marginMm) * perMm / step);
        var height = (int)((form.Layout.HeightMm + 2 * marginMm) * perMm / step);
        var scan = new RgbPicture(width, height, perMm / step);
        var tile = (int)(Loupe.LargestMm * perMm / step) - 1;
        var tiles =
            from y in Enumerable.Range(0, (height + tile - 1) / tile)
            from x in Enumerable.Range(0, (width + tile - 1) / tile)
            select (X: x * tile, Y: y * tile);
        foreach (var (x, y) in tiles)
        {
            var (w, h) = (Math.Min(tile, width - x), Math.Min(tile, height - y));
            var seen = Loupe.Look(
                form.Films,
                plan,
                press,
                Deposit.Expected,
                ViewingLight.D65,
                seed,
                (left + x) * step / perMm,
                (top + y) * step / perMm,
                w * step / perMm,
                h * step / perMm
            );
            Average(seen, step, scan, x, y, w, h, noise, seed);
        }
        return scan;
    }

    private static void Average(
        RgbPicture seen,
        int step,
        RgbPicture scan,
        int left,
        int top,
        int w,
        int h,
        double noise,
        ulong seed
    )
    {
        Parallel.For(
            0,
            h,
            y =>
            {
                var row = scan.Pixels.AsSpan(3 * ((top + y) * scan.Width + left), 3 * w);
                for (var i = 0; i < row.Length; i++)
                {
                    var (x, c) = (i / 3, i % 3);
                    double sum = 0;
                    for (var v = 0; v < step; v++)
                    for (var u = 0; u < step; u++)
                        sum += Light[seen.Pixels[3 * ((y * step + v) * seen.Width + x * step + u) + c]];
                    var code = 255 * Srgb.Encode(sum / (step * step));
                    code += noise * SeededNoise.Normal(seed ^ 0x5CA7, 3L * (left + x) + c, top + y);
                    row[i] = (byte)Math.Clamp(code + 0.5, 0, 255);
                }
            }
        );
    }

    private static readonly double[] Light = [.. Enumerable.Range(0, 256).Select(i => Srgb.Decode(i / 255.0))];
}
