using System.Security.Cryptography;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Backups;

/// <summary>Copies a file, flushed, and says what was read.</summary>
internal static class CheckedCopy
{
    public static async Task<BackupFile> CopyAsync(string from, string folder, string path, CancellationToken cancel)
    {
        var to = Path.Combine(folder, path);
        MakeFolder(Path.GetDirectoryName(to)!);
        using var sha256 = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = new byte[1 << 18];
        var length = 0L;
        await using var source = new FileStream(
            from,
            FileMode.Open,
            FileAccess.Read,
            FileShare.ReadWrite | FileShare.Delete,
            1
        );
        await using var target = DurableFile.Create(to);
        for (int read; (read = await source.ReadAsync(buffer, cancel)) > 0; length += read)
        {
            sha256.AppendData(buffer, 0, read);
            await target.WriteAsync(buffer.AsMemory(0, read), cancel);
        }
        RandomAccess.FlushToDisk(target.SafeFileHandle);
        return new BackupFile(path, length, Convert.ToHexStringLower(sha256.GetHashAndReset()));
    }

    public static async Task<BackupFile> WriteAsync(byte[] bytes, string folder, string path, CancellationToken cancel)
    {
        var to = Path.Combine(folder, path);
        MakeFolder(Path.GetDirectoryName(to)!);
        await DurableFile.WriteAsync(to, bytes, null, cancel);
        return new BackupFile(path, bytes.Length, Convert.ToHexStringLower(SHA256.HashData(bytes)));
    }

    /// <summary>Readable by this user only: what is copied holds keys and links.</summary>
    public static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(folder);
        }
        else
        {
            Directory.CreateDirectory(
                folder,
                UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute
            );
        }
    }

    /// <summary>Each folder below, deepest first, so that the names in them are on the disk.</summary>
    public static void FlushFolders(string folder)
    {
        foreach (
            var below in Directory
                .GetDirectories(folder, "*", SearchOption.AllDirectories)
                .OrderByDescending(f => f.Length)
        )
        {
            DurableFile.FlushFolder(below);
        }
        DurableFile.FlushFolder(folder);
    }
}
