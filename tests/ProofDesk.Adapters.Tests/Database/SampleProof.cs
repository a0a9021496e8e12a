using System.Collections.Immutable;
using System.Text;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>A proof of one print on one ground with one plate; its files differ from version to version.</summary>
internal static class SampleProof
{
    public static RenderOutcome.Done Done(RenderJob job)
    {
        var text = StatementTexts.Write(
            "en",
            $"{job.OrderNumber}",
            job.VersionNumber,
            1,
            HandOver.Dots,
            [.. job.ShopLines]
        );
        return new RenderOutcome.Done(
            [
                File("proof/front.png", FileRole.Picture, "image/png", $"picture {job.VersionId}"),
                File("plates/01-white.tif", FileRole.Plate, "image/tiff", $"plate {job.VersionId}"),
            ],
            stored => ManifestJson.Write(Manifest(job, stored, text)),
            new Dictionary<string, string>(StringComparer.Ordinal) { ["en"] = text },
            "[]"
        );
    }

    private static Manifest Manifest(RenderJob job, IReadOnlyList<StoredFile> stored, string text) =>
        new(
            job.Shop,
            $"{job.OrderNumber}",
            job.VersionNumber,
            job.VersionId.ToString(),
            HandOver.Dots,
            "D50",
            [new ManifestPrint("front", "front", "plastisol", "adult", 280_000, 200_000, 75_000, 0, ["REGATTA"])],
            [new ManifestLine("tee", "navy", [new SizeCount("M", 40)])],
            [new ManifestGround("navy", "tee", "navy", new LabHundredths(1500, 200, -1800))],
            [
                new ManifestPlate(
                    "front",
                    1,
                    "base",
                    "61T",
                    55,
                    22_500,
                    310_000,
                    "plates/01-white.tif",
                    [new PlateOnGround("navy", "white", new LabHundredths(9200, -50, 100))]
                ),
            ],
            [.. stored.Select(Bound)],
            ImmutableSortedDictionary<string, Sha256Digest>.Empty.Add("en", StatementTexts.Digest(text)),
            new RenderRecipe("0.1.0", Sha256Digest.Of("recipe"u8), 1)
        );

    private static ManifestFile Bound(StoredFile file) =>
        new(
            file.Path,
            file.Role,
            file.MediaType,
            file.Bytes,
            Sha256Digest.TryParseHex(file.Sha256, out var digest) ? digest : default,
            file.Sha512
        );

    private static RenderedFile File(string path, FileRole role, string mediaType, string content) =>
        new(path, role, mediaType, () => new MemoryStream(Encoding.UTF8.GetBytes(content)));
}
