using System.IO.Compression;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Adapters.Renders;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Cli;

/// <summary>`--rerender`: what a version binds, made again and compared file by file.</summary>
internal static class RerenderCommand
{
    /// <summary>Exit code for a packet that holds, of which something comes out otherwise.</summary>
    public const int Different = 4;

    /// <param name="packet">Verified: its layout is the one and only, so any reader of archives finds the same files.</param>
    /// <returns>Whether every byte is the same.</returns>
    /// <exception cref="RecipeProblem">It cannot be made again.</exception>
    public static async Task<bool> RunAsync(
        Stream packet,
        Manifest manifest,
        TextWriter output,
        CancellationToken cancel
    )
    {
        packet.Position = 0;
        using var zip = new ZipArchive(packet, ZipArchiveMode.Read, leaveOpen: true);
        return await RunAsync(manifest, file => zip.GetEntry($"data/files/{file.Path}")!.Open(), output, cancel);
    }

    public static async Task<bool> RunAsync(
        Manifest manifest,
        Func<ManifestFile, Stream> open,
        TextWriter output,
        CancellationToken cancel
    )
    {
        output.WriteLine($"making it again with engine {ProofMaker.EngineVersion}");
        var report = await new Rerender(new ArtDecoder(), Shipped).OfAsync(manifest, open, new Lines(output), cancel);
        foreach (var note in report.Notes)
        {
            output.WriteLine($"note     {note}");
        }
        output.WriteLine(report.Summary);
        return report.IsEqual;
    }

    private static Garment? Shipped(string sha256) =>
        GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder).Garments.FirstOrDefault(g => g.Sha256 == sha256);

    /// <summary>Said at once and in order: a large order takes minutes.</summary>
    private sealed class Lines(TextWriter output) : IProgress<FileComparison>
    {
        public void Report(FileComparison file) =>
            output.WriteLine($"{(file.IsSame ? "same    " : "DIFFERS ")} {file}");
    }
}
