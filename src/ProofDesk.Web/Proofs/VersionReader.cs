using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>A finished version with what was written when it was made.</summary>
public sealed record ReadVersion(ProofVersion Version, ProofOrder Order, ProofSummary Summary)
{
    private readonly Dictionary<string, VersionFile> files = Version.Files.ToDictionary(f => f.Path);

    public VersionFile? File(string path) => files.GetValueOrDefault(path);

    /// <summary>Address of a bound file; the digest in it is the one the manifest names.</summary>
    public string Url(string path) =>
        files.TryGetValue(path, out var file) ? $"/f/{file.Sha256}/{System.IO.Path.GetFileName(path)}" : "";

    /// <summary>Address of the same picture scaled down to a width in pixels.</summary>
    public string Url(string path, int width) =>
        files.TryGetValue(path, out var file)
            ? $"/f/{file.Sha256}/w{width}/{System.IO.Path.GetFileNameWithoutExtension(path)}.png"
            : "";
}

/// <summary>Reads finished versions. The summary comes from the file that is bound with the pictures.</summary>
public sealed class VersionReader(OfficeDb db, IFileStore files)
{
    public async Task<ReadVersion?> FindAsync(Guid versionId, CancellationToken cancel)
    {
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(v => v.Files)
            .Include(v => v.Order)
            .FirstOrDefaultAsync(v => v.Id == versionId && v.ManifestSha256 != null, cancel);
        return version is null ? null : await ReadAsync(version, cancel);
    }

    public async Task<ReadVersion> ReadAsync(ProofVersion version, CancellationToken cancel)
    {
        var summary = version.Files.First(f => f.Path == ProofSummary.Path);
        return new(
            version,
            ProofOrder.FromJson(version.RequestJson),
            ProofSummary.FromJson(await files.ReadCheckedAsync(summary.Sha256, cancel))
        );
    }
}
