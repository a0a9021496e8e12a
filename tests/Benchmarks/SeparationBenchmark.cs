using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;

namespace Benchmarks;

/// <summary>
/// Painted art of 12 x 16 inch at 300 px per inch (3600 x 4800 px), sized art in and plates out on black cloth, inks
/// chosen and table solved each time; beside libvips' icc_transform of the same picture to four inks, which reads a table that
/// came with the profile and is lcms inside. Each case runs in a process of its own, so that the peak of memory is its own.
/// </summary>
internal static class SeparationBenchmark
{
    /// <summary>Screens of base and highlight on black; the count that is asked for is of colours.</summary>
    private const int Whites = 2;

    /// <param name="args">A photograph to take instead of the drawn painting, scaled to the size above; "--no-vips"; "--only-eight".</param>
    internal static int Run(string[] args)
    {
        var picture = Array.Find(args, a => !a.StartsWith("--", StringComparison.Ordinal) && a != "case");
        if (args is ["case", var id, var count, var runs, ..])
            return Case(
                id,
                int.Parse(count, CultureInfo.InvariantCulture),
                int.Parse(runs, CultureInfo.InvariantCulture),
                args.Length > 4 ? args[4] : null
            );
        var inks = args.Contains("--no-vips") ? default : VipsInks.Measure(PaintedArt.Make(picture).Pixels);
        (string Method, int Screens)[] cases = args.Contains("--only-eight")
            ? [("simulated-process", 8)]
            :
            [
                ("simulated-process", 6),
                ("simulated-process", 8),
                ("simulated-process", 12),
                ("four-colour-process", 5),
            ];
        foreach (var (method, screens) in cases)
        {
            var best = Child(method, screens, picture);
            if (inks.Wall > 0)
                Say(
                    $"  against icc_transform {best.Wall / inks.Wall:0.0} times its time, {best.Processor / inks.Processor:0.0} of its processor time, for {screens / 4.0:0.##} times the plates"
                );
        }
        return 0;
    }

    /// <returns>Seconds of the best run, wall and processor.</returns>
    private static (double Wall, double Processor) Child(string method, int screens, string? picture) =>
        CaseProcess.Run([
            "separation",
            "case",
            method,
            screens.ToString(CultureInfo.InvariantCulture),
            "3",
            .. picture is null ? [] : (string[])[picture],
        ]);

    private static int Case(string id, int screens, int runs, string? picture)
    {
        var art = PaintedArt.Make(picture);
        var tee = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder).Find("tee")!;
        ImmutableArray<Ground> black = [new(tee, tee.Colour("black")!)];
        var method = PrintMethods.Find(id)!;
        var settings = new SpotSettings
        {
            Inks = id == "simulated-process" ? InkChoice.Exactly(screens - Whites) : InkChoice.Automatic,
        };
        GC.Collect();
        var before = CaseProcess.Memory("VmRSS");
        Say($"{id}, {screens} screens; {before:0} MB with the art");
        var best = (Wall: double.PositiveInfinity, Processor: 0.0);
        var digest = "";
        for (var run = 0; run < runs; run++)
        {
            var clock = new StageClock();
            var separation = method.Separate(art, method, black, settings);
            var spent = clock.End();
            if (separation.Plates.Length != screens)
                throw new InvalidOperationException($"{separation.Plates.Length} plates of {screens}");
            digest = Digest(separation);
            Say(
                $"  {(run == 0 ? "cold" : "warm")} {spent.Wall:0.00} s, processor {spent.Processor:0.00} s; peak {CaseProcess.Memory("VmHWM"):0} MB"
            );
            if (spent.Wall < best.Wall)
                best = spent;
        }
        Say($"  digest of all plates {digest}");
        Say($"best {best.Wall:0.000} {best.Processor:0.000}");
        return 0;
    }

    /// <summary>Two releases that give the same plates say the same here.</summary>
    private static string Digest(Separation separation)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var plate in separation.Plates)
        {
            hash.AppendData(plate.Tone.Pixels);
            hash.AppendData(plate.Shape?.Pixels ?? []);
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset())[..16];
    }

    private static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
