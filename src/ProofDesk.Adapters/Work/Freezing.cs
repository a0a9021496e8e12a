using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Work;

/// <summary>
/// Makes a rendered version immutable. Files go to the store first: a file without a row is litter, a row without its file would be
/// a lie. Then rows, manifest, leaf, checkpoint and the end of the work in one transaction that only the holder of the run can make.
/// </summary>
public sealed class Freezing(Office office, IFileStore files, LogKeeper log, RenderQueue queue)
{
    /// <summary>False when the run was lost or cancelled meanwhile: nothing of it is kept.</summary>
    public async Task<bool> FreezeAsync(RenderJob job, RenderOutcome.Done rendered, CancellationToken cancel = default)
    {
        var stored = new List<StoredFile>();
        foreach (var file in rendered.Files)
        {
            await using var source = file.Open();
            var blob = await files.PutAsync(source, cancel);
            stored.Add(new StoredFile(file.Path, file.Role, file.MediaType, blob.Bytes, blob.Sha256, blob.Sha512));
        }
        Fault.Point("freezing.after-blobs");
        var bytes = rendered.ManifestOf(stored);
        RefuseOtherManifest(bytes, stored, job, rendered.StatementTexts);
        string? note = null;
        var kept = await office.WriteAsync(
            async db =>
            {
                note = await FreezeAsync(db, job, rendered, stored, bytes, cancel);
                return note is not null;
            },
            cancel
        );
        Fault.Point("freezing.after-commit");
        if (kept)
        {
            await log.PublishAsync(note!, CancellationToken.None);
        }
        return kept;
    }

    private async Task<string?> FreezeAsync(
        OfficeDb db,
        RenderJob job,
        RenderOutcome.Done rendered,
        List<StoredFile> stored,
        byte[] manifest,
        CancellationToken cancel
    )
    {
        var at = await log.TakeAsync(db, cancel);
        if (!await queue.CloseAsync(db, job, cancel))
        {
            return null;
        }
        db.VersionFiles.AddRange(
            stored.Select(file => new VersionFile
            {
                VersionId = job.VersionId,
                Path = file.Path,
                Role = file.Role,
                MediaType = file.MediaType,
                Bytes = file.Bytes,
                Sha256 = file.Sha256,
                Sha512 = file.Sha512,
            })
        );
        await db.SaveChangesAsync(cancel);
        Fault.Point("freezing.after-files");
        var digest = Sha256Digest.Of(manifest);
        var leaf = await log.AppendAsync(db, LeafType.Freeze, digest, job.VersionId, at, cancel);
        Fault.Point("freezing.after-leaf");
        var version = await db
            .ProofVersions.Include(row => row.Order)
            .SingleAsync(row => row.Id == job.VersionId, cancel);
        version.State = VersionState.Frozen;
        version.ManifestBytes = manifest;
        version.ManifestSha256 = digest.Hex;
        version.FreezeLeafIndex = leaf.Index;
        version.FrozenAt = at;
        version.FindingsJson = rendered.FindingsJson;
        version.StatementTexts = new SortedDictionary<string, string>(
            rendered.StatementTexts.ToDictionary(StringComparer.Ordinal),
            StringComparer.Ordinal
        );
        version.Error = null;
        version.Order!.State = version.Order.State == OrderState.Closed ? OrderState.Closed : OrderState.WaitingForUs;
        await db.SaveChangesAsync(cancel);
        Fault.Point("freezing.after-version");
        return leaf.CheckpointNote;
    }

    // A manifest that names other bytes than those stored would freeze a record that can never be sealed.
    private static void RefuseOtherManifest(
        byte[] bytes,
        List<StoredFile> stored,
        RenderJob job,
        IReadOnlyDictionary<string, string> sentences
    )
    {
        var manifest = ManifestJson.Parse(bytes);
        var named = manifest
            .Files.Select(file => (file.Path, file.Sha256.Hex, file.Sha512Hex, file.Bytes, file.Role))
            .ToHashSet();
        var made = stored.Select(file => (file.Path, file.Sha256, file.Sha512, file.Bytes, file.Role)).ToHashSet();
        if (!named.SetEquals(made))
        {
            var differing = named
                .Except(made)
                .Concat(made.Except(named))
                .Select(file => file.Item1)
                .Distinct(StringComparer.Ordinal);
            throw new InvalidDataException(
                $"the manifest does not name the stored files; differing: {string.Join(", ", differing)}"
            );
        }
        if (manifest.Version != job.VersionNumber || manifest.VersionId != job.VersionId.ToString())
        {
            throw new InvalidDataException(
                $"the manifest is of version {manifest.Version} ({manifest.VersionId}), not of {job.VersionNumber} ({job.VersionId})"
            );
        }
        if (
            manifest.StatementTexts.Count != sentences.Count
            || sentences.Any(text =>
                !manifest.StatementTexts.TryGetValue(text.Key, out var bound)
                || bound != StatementTexts.Digest(text.Value)
            )
        )
        {
            throw new InvalidDataException("the manifest binds other sentences than the version would show");
        }
    }
}
