using System.Security.Cryptography;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Backups;

/// <summary>Every file that something names is there and hashes to its name; nothing half written lies about.</summary>
internal static class FileCheck
{
    public static async Task RunAsync(
        DataFolder folder,
        WantedFiles wanted,
        StoreCheckOptions options,
        DateTimeOffset now,
        StoreFindings found,
        CancellationToken cancel
    )
    {
        var stored = new HashSet<string>(StringComparer.Ordinal);
        var root = Path.Combine(folder.Blobs, "sha256");
        foreach (var path in Stored(root))
        {
            var name = Path.GetFileName(path);
            if (!string.Equals(path, Path.Combine(root, Part(name, 0), Part(name, 2), name), StringComparison.Ordinal))
            {
                found.Wrong("file.misplaced", $"{path} is no stored file: its place does not fit its name");
                continue;
            }
            stored.Add(name);
            await CheckAsync(path, name, wanted.All.GetValueOrDefault(name), found, cancel);
        }
        foreach (var (sha256, file) in wanted.All)
        {
            if (!stored.Contains(sha256))
            {
                found.Wrong(
                    "file.missing",
                    $"{file.What} is missing: no stored file {sha256}; restore blobs/ from a backup"
                );
            }
        }
        HalfWritten(folder, now - options.LeftOverAge, found);
    }

    private static async Task CheckAsync(
        string path,
        string name,
        WantedFile? wanted,
        StoreFindings found,
        CancellationToken cancel
    )
    {
        using var sha256 = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var sha512 = wanted?.Sha512 is null ? null : IncrementalHash.CreateHash(HashAlgorithmName.SHA512);
        var length = 0L;
        await using (var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1))
        {
            var buffer = new byte[1 << 18];
            for (int read; (read = await file.ReadAsync(buffer, cancel)) > 0; length += read)
            {
                sha256.AppendData(buffer, 0, read);
                sha512?.AppendData(buffer, 0, read);
            }
        }
        found.Count("files");
        found.Count("bytes", length);
        if (wanted is null)
        {
            found.Count("unreferenced");
        }
        var what = wanted?.What ?? "a file nothing names";
        var hex = Convert.ToHexStringLower(sha256.GetHashAndReset());
        if (!string.Equals(hex, name, StringComparison.Ordinal))
        {
            found.Wrong(
                "file.changed",
                $"{what} is not the file that was stored: {name} hashes to {hex}; restore it from a backup"
            );
        }
        else if (wanted?.Bytes is { } bytes && bytes != length)
        {
            found.Wrong("file.length", $"{what} has {length} bytes, {bytes} were sealed");
        }
        else if (
            sha512 is not null
            && !string.Equals(
                Convert.ToHexStringLower(sha512.GetHashAndReset()),
                wanted!.Sha512,
                StringComparison.Ordinal
            )
        )
        {
            found.Wrong("file.changed", $"{what} has another SHA-512 than was sealed");
        }
    }

    // Younger ones may belong to a write that is going on.
    private static void HalfWritten(DataFolder folder, DateTimeOffset before, StoreFindings found)
    {
        foreach (var path in LeftOvers.In(folder))
        {
            if (File.GetLastWriteTimeUtc(path) <= before.UtcDateTime)
            {
                found.Wrong(
                    "file.left-over",
                    $"{path} is left over from a write that never ended; the next start removes it"
                );
            }
        }
    }

    private static string Part(string name, int from) => name.Length >= from + 2 ? name[from..(from + 2)] : "";

    private static IEnumerable<string> Stored(string folder) =>
        Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            : [];
}
