using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Web.Renders;

/// <summary>
/// The version of an order that repeats another one: where prints and garments are the same, it is made of the stored films and
/// pictures, bit for bit, under a manifest of its own with the new counts. Where they differ, it is rendered like any other.
/// </summary>
public sealed class StoredRepeat(Office office, IFileStore files)
{
    /// <summary>Null when the order repeats nothing, or not with the same prints on the same garments.</summary>
    public async Task<RenderOutcome.Done?> OfAsync(RenderJob job, ProofOrder order, CancellationToken cancel)
    {
        await using var db = office.Open();
        var repeated = await db
            .Orders.Where(row => row.Id == job.OrderId)
            .Select(row => row.RepeatOfVersionId)
            .SingleOrDefaultAsync(cancel);
        if (repeated is not { } versionId)
            return null;
        var before = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Files)
            .SingleAsync(row => row.Id == versionId, cancel);
        if (!IsSameWork(ProofOrder.FromJson(before.RequestJson), order))
            return null;
        var bound = ManifestJson.Parse(before.ManifestBytes!);
        var texts = Sentences.Of(job, order, bound.Plates.Length, bound.HandOver);
        return new RenderOutcome.Done(
            [
                .. before.Files.Select(file => new RenderedFile(
                    file.Path,
                    file.Role,
                    file.MediaType,
                    () => files.Open(file.Sha256)
                )),
            ],
            _ => ManifestJson.Write(Again(bound, job, order, texts)),
            texts,
            before.FindingsJson
        );
    }

    /// <summary>Same prints by the same settings on the same garments; counts, dates and names may differ.</summary>
    public static bool IsSameWork(ProofOrder before, ProofOrder now) =>
        JsonSerializer.Serialize(before.Prints) == JsonSerializer.Serialize(now.Prints)
        && before.FilmDpi == now.FilmDpi
        && Garments(before).SetEquals(Garments(now));

    /// <summary>Nothing the manifest binds differs, counts and sizes among it.</summary>
    public static bool IsSameOrder(ProofOrder before, ProofOrder now) =>
        IsSameWork(before, now) && JsonSerializer.Serialize(before.Lines) == JsonSerializer.Serialize(now.Lines);

    private static HashSet<string> Garments(ProofOrder order) =>
        [.. order.Lines.Select(line => $"{line.GarmentId}/{line.ColourId}")];

    private static Manifest Again(
        Manifest bound,
        RenderJob job,
        ProofOrder order,
        IReadOnlyDictionary<string, string> texts
    ) =>
        bound with
        {
            Shop = order.Shop,
            Order = $"{order.Number}",
            Version = job.VersionNumber,
            VersionId = job.VersionId.ToString(),
            Lines =
            [
                .. order.Lines.Select(line => new ManifestLine(
                    line.GarmentId,
                    line.ColourId,
                    [.. line.Counts.Select(count => new SizeCount(count.Size, count.Count))]
                )),
            ],
            StatementTexts = texts.ToImmutableSortedDictionary(
                text => text.Key,
                text => StatementTexts.Digest(text.Value),
                StringComparer.Ordinal
            ),
        };
}
