using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Backups;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Renders;

/// <summary>A frozen version in a store, read beside a working server.</summary>
public sealed class StoredVersion : IDisposable
{
    private readonly Office office;
    private readonly FolderFileStore files;

    private StoredVersion(Office office, FolderFileStore files, Manifest manifest) =>
        (this.office, this.files, Manifest) = (office, files, manifest);

    public Manifest Manifest { get; }

    public Stream Open(ManifestFile file) => files.Open(file.Sha256.Hex);

    /// <exception cref="StoreUnreadableException">There is no store, or no such version is frozen in it.</exception>
    public static async Task<StoredVersion> FindAsync(
        OfficeSettings settings,
        int order,
        int version,
        CancellationToken cancel
    )
    {
        var folder = StoreCheck.Existing(settings);
        var opened = new Office(settings, folder);
        try
        {
            await using var db = opened.Open();
            var bytes = await db
                .ProofVersions.Where(row => row.Order!.Number == order && row.Number == version)
                .Select(row => row.ManifestBytes)
                .SingleOrDefaultAsync(cancel);
            return bytes is null
                ? throw new StoreUnreadableException($"no version {version} of order {order} is frozen in this store")
                : new(opened, new FolderFileStore(folder.Blobs), ManifestJson.Parse(bytes));
        }
        catch
        {
            opened.Dispose();
            throw;
        }
    }

    public void Dispose() => office.Dispose();
}
