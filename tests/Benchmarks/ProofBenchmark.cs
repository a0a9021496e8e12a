using System.Globalization;
using System.Security.Cryptography;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;

namespace Benchmarks;

/// <summary>
/// Art to finished proof, 12 x 16 inch, six screens, 1440 dpi: decoded art in, expected print, worn garment, ink list
/// and film measures out, then the files. Each case runs in a process of its own, so that cold means cold and the peak
/// of memory is its own.
/// </summary>
internal static class ProofBenchmark
{
    internal static int Run(string[] args)
    {
        if (args is ["case", var kind, var inches, var runs])
            return Case(
                kind,
                int.Parse(inches, CultureInfo.InvariantCulture),
                int.Parse(runs, CultureInfo.InvariantCulture)
            );
        var flat = Child("flat", 16, 3);
        Child("fades", 16, 3);
        Child("fades", 32, 1);
        if (!args.Contains("--no-vips"))
            VipsPrint.Compare(flat);
        return 0;
    }

    /// <returns>Seconds of the best run, wall and processor.</returns>
    private static (double Wall, double Processor) Child(string kind, int inches, int runs) =>
        CaseProcess.Run([
            "proof",
            "case",
            kind,
            inches.ToString(CultureInfo.InvariantCulture),
            runs.ToString(CultureInfo.InvariantCulture),
        ]);

    private static int Case(string kind, int inches, int runs)
    {
        var art = ProofArt.Make(inches, kind == "fades");
        var tee = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder).Find("tee")!;
        var request = new ProofRequest(
            art,
            Placement.Usual(Place.Front, 12 * 25.4),
            PrintMethods.Find("plastisol")!,
            [new Ground(tee, tee.Colour("black")!)]
        );
        GC.Collect();
        var before = CaseProcess.Memory("VmRSS");
        Say($"{kind}, 12 x {inches} inch; {before:0} MB with the art");
        var digest = "";
        var best = (Wall: double.PositiveInfinity, Processor: 0.0);
        for (var run = 0; run < runs; run++)
        {
            var clock = new StageClock();
            var proof = ProofMaker.Make(request, clock, default);
            var made = clock.End();
            if (run == 0)
                Say(
                    $"  {proof.Films.Plates.Length} screens, {proof.Grounds[0].Expected.Print.Width} px, peak {CaseProcess.Memory("VmHWM"):0} MB"
                );
            digest = Digest(proof);
            clock.Begin("write pictures");
            long bytes = PictureWriter.Png(proof.Grounds[0].Expected.Print).Length;
            bytes += PictureWriter.Png(proof.Grounds[0].Garment).Length;
            clock.Begin("write films");
            bytes += Films(proof);
            clock.Begin("write plates.pdf");
            using (var pdf = new CountingStream())
            {
                PlatesPdf.Write(pdf, proof.Films, InkListMaker.Solids(proof), "benchmark");
                bytes += pdf.Length;
            }
            var written = clock.End();
            Say(
                $"  {(run == 0 ? "cold" : "warm")} {made.Wall:0.00} s, processor {made.Processor:0.00} s; files {written.Wall - made.Wall:0.00} s, {written.Processor - made.Processor:0.00} s, {bytes / 1e6:0.0} MB; peak {CaseProcess.Memory("VmHWM"):0} MB"
            );
            foreach (var line in clock.Lines)
                Console.WriteLine($"    {line}");
            if (run > 0 && made.Wall < best.Wall)
                best = made;
        }
        Say($"  digest of all films and pictures {digest}");
        Say($"best {best.Wall:0.000} {best.Processor:0.000}");
        return 0;
    }

    /// <summary>Two releases that give the same proof say the same here.</summary>
    private static string Digest(Proof proof)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var measure in proof.Measures)
            hash.AppendData(Convert.FromHexString(measure.Sha256));
        hash.AppendData(proof.Grounds[0].Expected.Print.Pixels);
        hash.AppendData(proof.Grounds[0].Expected.InkMask.Pixels);
        hash.AppendData(proof.Grounds[0].Garment.Pixels);
        return Convert.ToHexStringLower(hash.GetHashAndReset())[..16];
    }

    private static long Films(Proof proof)
    {
        var name = new FilmSetName("0001", "benchmark", "00000000", true);
        var bytes = 0L;
        for (var i = 0; i < proof.Films.Plates.Length; i++)
        {
            using var file = new MemoryStream();
            PlateFiles.Write(proof.Films, i, proof.Measures[i], name, file);
            bytes += file.Length;
        }
        return bytes;
    }

    private static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
