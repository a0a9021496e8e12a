using System.Collections.Immutable;
using System.Reflection;
using ProofDesk.Adapters.Renders;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Web.Renders;

/// <summary>Says in whole numbers what a version binds.</summary>
internal static class Manifests
{
    public static Manifest Of(
        RenderJob job,
        ProofOrder order,
        ProofSummary summary,
        ImmutableArray<ManifestedProof> proofs,
        IReadOnlyDictionary<string, string> texts,
        IReadOnlyList<StoredFile> stored
    )
    {
        var recipe = stored.First(f => f.Path == BoundFiles.RecipePath(order.Prints[0].Key));
        return new Manifest(
            order.Shop,
            $"{order.Number}",
            job.VersionNumber,
            job.VersionId.ToString(),
            HandOverOf(proofs),
            "D65",
            [.. proofs.Select(p => PrintOf(p))],
            [
                .. order.Lines.Select(l => new ManifestLine(
                    l.GarmentId,
                    l.ColourId,
                    [.. l.Counts.Select(c => new SizeCount(c.Size, c.Count))]
                )),
            ],
            [
                .. proofs
                    .SelectMany(p => p.Proof.Grounds)
                    .DistinctBy(g => g.Ground.Id)
                    .Select(g => new ManifestGround(
                        g.Ground.Id,
                        g.Ground.Garment.Id,
                        g.Ground.Colour.Id,
                        Hundredths(ClothLab(g))
                    )),
            ],
            [.. proofs.SelectMany(Plates)],
            [.. stored.Select(f => new ManifestFile(f.Path, f.Role, f.MediaType, f.Bytes, Hex(f.Sha256), f.Sha512))],
            texts.ToImmutableSortedDictionary(t => t.Key, t => StatementTexts.Digest(t.Value), StringComparer.Ordinal),
            new RenderRecipe(
                typeof(Manifests)
                    .Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()
                    ?.InformationalVersion.Split('+')[0]
                    ?? "0",
                Hex(recipe.Sha256),
                (long)order.Seed
            )
        );
    }

    /// <summary>Where one print's device makes its own dots, the version binds tones: the weaker of the two is said.</summary>
    public static HandOver HandOverOf(IEnumerable<ManifestedProof> proofs) =>
        proofs.Any(p => p.Proof.Films.Device.HandOver == Printing.Screening.HandOver.DotsTheirs)
            ? HandOver.Tones
            : HandOver.Dots;

    private static ManifestPrint PrintOf(ManifestedProof made) =>
        new(
            made.Print.Key,
            Layout.Words.Place(made.Print.Place.ToString()),
            made.Print.Method,
            made.Print.SizeGroup,
            Micrometres(made.Proof.Separation.WidthMm),
            Micrometres(made.Proof.Separation.HeightMm),
            Micrometres(made.Print.FromSeamMm),
            Micrometres(made.Print.FromCentreMm),
            made.Print.Words
        );

    private static IEnumerable<ManifestPlate> Plates(ManifestedProof made)
    {
        var proof = made.Proof;
        for (var i = 0; i < proof.Films.Plates.Length; i++)
        {
            var film = proof.Films.Plates[i];
            var row = proof.Grounds.SelectMany(g => g.InkList.Rows).FirstOrDefault(r => r.Plate == film.Plate.Name);
            var index = i;
            yield return new ManifestPlate(
                made.Print.Key,
                i + 1,
                InkListMaker.PurposeName(film.Plate.Purpose),
                film.Plate.Mesh.Label,
                (int)Math.Round(row?.LinesPerInch ?? 0),
                (int)Math.Round(1000 * (row?.AngleDegrees ?? 0)),
                (int)Math.Round(10_000 * proof.Measures[i].CoveragePercent),
                BoundFiles.PlatePath(made.Print.Key, i, proof),
                [
                    .. proof
                        .Grounds.Where(g => g.Plan.Runs.Any(r => r.Plate == index && r.Runs))
                        .Select(g => OnGround(g, index, film.Plate)),
                ]
            );
        }
    }

    private static PlateOnGround OnGround(GroundProof ground, int plate, Plate made)
    {
        var run = ground.Plan.Runs.First(r => r.Plate == plate && r.Runs);
        var lab = ground.InkList.Rows.FirstOrDefault(r => r.Plate == made.Name)?.ExpectedLab ?? default;
        return new(ground.Ground.Id, run.Ink.Name, Hundredths(lab));
    }

    private static Lab ClothLab(GroundProof ground) =>
        CieLab.FromXyz(Tristimulus.Of(ground.Ground.Colour.Reflectance, ViewingLight.D50), ViewingLight.D50);

    private static LabHundredths Hundredths(Lab lab) =>
        new((int)Math.Round(100 * lab.L), (int)Math.Round(100 * lab.A), (int)Math.Round(100 * lab.B));

    private static int Micrometres(double mm) => (int)Math.Round(1000 * mm);

    private static Sha256Digest Hex(string hex) =>
        Sha256Digest.TryParseHex(hex, out var digest)
            ? digest
            : throw new FormatException($"\"{hex}\" is not a digest");
}
