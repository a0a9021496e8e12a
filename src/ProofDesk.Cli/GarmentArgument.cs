using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Cli;

/// <summary>`--garment`: one that ships, by its identifier, or a garment.json with its photographs beside it.</summary>
internal static class GarmentArgument
{
    public static async Task<Garment> ReadAsync(string given, CancellationToken cancel)
    {
        if (given.EndsWith(".json", StringComparison.OrdinalIgnoreCase))
            return await FileAsync(given, cancel);
        var catalogue = GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder);
        var ids = catalogue.Garments.Select(g => g.Id).ToArray();
        return catalogue.Find(given)
            ?? throw new UsageProblem(
                $"no garment '{given}'{Nearest.Guess(given, ids)}",
                $"there are {string.Join(", ", ids)}, or the path of a garment.json"
            );
    }

    private static async Task<Garment> FileAsync(string path, CancellationToken cancel)
    {
        if (!File.Exists(path))
            throw new UsageProblem(
                $"there is no file '{path}'",
                "'proofdesk photo-garment' makes one from a photograph"
            );
        try
        {
            var folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
            return await new GarmentPhotographs(new ArtDecoder()).WithPhotographsAsync(
                GarmentCatalogue.Read(await File.ReadAllBytesAsync(path, cancel)),
                async photograph =>
                    Path.Combine(folder, photograph.FileName) is var file && File.Exists(file)
                        ? await File.ReadAllBytesAsync(file, cancel)
                        : null,
                cancel
            );
        }
        catch (GarmentFormatException problem)
        {
            throw new UsageProblem(
                $"{path}: {problem.Message}",
                "docs/garment-format.md says what a garment file holds"
            );
        }
    }
}
