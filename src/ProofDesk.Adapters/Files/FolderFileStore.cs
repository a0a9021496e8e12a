using System.Security.Cryptography;

namespace ProofDesk.Adapters.Files;

/// <summary>blobs/sha256/ab/cd/HEX; hashed while written to a temporary file of the same file system, flushed, then renamed.</summary>
public sealed class FolderFileStore : IFileStore
{
    private readonly string _root;
    private readonly string _temporary;

    public FolderFileStore(string root)
    {
        _root = Path.Combine(root, "sha256");
        _temporary = Path.Combine(root, "tmp");
        Directory.CreateDirectory(_root);
        Directory.CreateDirectory(_temporary);
    }

    public async Task<StoredBlob> PutAsync(Stream bytes, CancellationToken cancel = default)
    {
        var temporary = Path.Combine(_temporary, Guid.NewGuid().ToString("N"));
        try
        {
            var blob = await WriteHashedAsync(temporary, bytes, cancel);
            Fault.Point("file.after-temporary");
            var path = PathOf(blob.Sha256);
            if (File.Exists(path) && await HashesToAsync(path, blob.Sha256, cancel))
            {
                return blob;
            }
            var folder = Path.GetDirectoryName(path)!;
            MakeFolders(folder);
            File.Move(temporary, path, overwrite: true);
            Fault.Point("file.after-rename");
            DurableFile.FlushFolder(folder);
            return blob;
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    public Stream Open(string sha256)
    {
        var path = PathOf(sha256);
        return File.Exists(path)
            ? new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, FileOptions.Asynchronous)
            : throw new FileNotFoundException(
                $"no stored file has the digest {sha256}; restore the blobs folder from its backup"
            );
    }

    public async Task<byte[]> ReadCheckedAsync(string sha256, CancellationToken cancel = default)
    {
        await using var file = Open(sha256);
        var bytes = new byte[file.Length];
        await file.ReadExactlyAsync(bytes, cancel);
        var found = Convert.ToHexStringLower(SHA256.HashData(bytes));
        return string.Equals(found, sha256, StringComparison.Ordinal)
            ? bytes
            : throw new InvalidDataException($"stored file {sha256} hashes to {found}; restore it from the backup");
    }

    public bool Has(string sha256) => File.Exists(PathOf(sha256));

    private static async Task<StoredBlob> WriteHashedAsync(string path, Stream bytes, CancellationToken cancel)
    {
        using var sha256 = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var sha512 = IncrementalHash.CreateHash(HashAlgorithmName.SHA512);
        var buffer = new byte[1 << 17];
        long length = 0;
        await using var file = DurableFile.Create(path);
        for (int read; (read = await bytes.ReadAsync(buffer, cancel)) > 0; length += read)
        {
            sha256.AppendData(buffer, 0, read);
            sha512.AppendData(buffer, 0, read);
            await file.WriteAsync(buffer.AsMemory(0, read), cancel);
        }
        RandomAccess.FlushToDisk(file.SafeFileHandle);
        return new StoredBlob(
            Convert.ToHexStringLower(sha256.GetHashAndReset()),
            Convert.ToHexStringLower(sha512.GetHashAndReset()),
            length
        );
    }

    private static async Task<bool> HashesToAsync(string path, string sha256, CancellationToken cancel)
    {
        await using var file = File.OpenRead(path);
        return string.Equals(
            Convert.ToHexStringLower(await SHA256.HashDataAsync(file, cancel)),
            sha256,
            StringComparison.Ordinal
        );
    }

    // A new folder is only durable once its parent is flushed, so each level that had to be made flushes the one above.
    private void MakeFolders(string folder)
    {
        var parent = Path.GetDirectoryName(folder)!;
        if (!Directory.Exists(parent))
        {
            Directory.CreateDirectory(parent);
            DurableFile.FlushFolder(_root);
        }
        if (!Directory.Exists(folder))
        {
            Directory.CreateDirectory(folder);
            DurableFile.FlushFolder(parent);
        }
    }

    private string PathOf(string sha256)
    {
        if (sha256.Length != 64 || !sha256.All(char.IsAsciiHexDigitLower))
        {
            throw new ArgumentException($"\"{sha256}\" is not a SHA-256 in 64 lower-case hex digits");
        }
        return Path.Combine(_root, sha256[..2], sha256[2..4], sha256);
    }
}
