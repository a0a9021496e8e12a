using System.Text.Json;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Backups;

/// <param name="Path">below the backup's folder, forward slashes</param>
public sealed record BackupFile(string Path, long Bytes, string Sha256);

/// <summary>What a backup holds, each file by its digest. Written last: a folder without it is a backup that did not end.</summary>
/// <param name="Database">"sqlite" when the database is in it, "postgresql" when it is backed up by pg_dump</param>
/// <param name="Leaves">entries of the log in its database; 0 where the database is not in it</param>
/// <param name="Checkpoint">newest signed checkpoint of that log, or empty</param>
/// <param name="Keys">whether the keys folder is in it</param>
public sealed record BackupIndex(
    string Format,
    DateTimeOffset MadeAt,
    string Database,
    long Leaves,
    string Checkpoint,
    bool Keys,
    IReadOnlyList<BackupFile> Files
)
{
    public const string FileName = "proofdesk-backup.json";
    public const string FormatOfThis = "proofdesk-backup/1";

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    public long Bytes => Files.Sum(file => file.Bytes);

    internal Task WriteAsync(string folder, CancellationToken cancel) =>
        DurableFile.WriteAsync(
            Path.Combine(folder, FileName),
            JsonSerializer.SerializeToUtf8Bytes(this, Json),
            null,
            cancel
        );

    internal static async Task<BackupIndex> ReadAsync(string folder, CancellationToken cancel)
    {
        var path = Path.Combine(folder, FileName);
        if (!File.Exists(path))
        {
            throw new BackupRefusedException(
                Directory.Exists(folder)
                    ? $"{folder} has no {FileName}: it is no backup, or one that did not end; take another"
                    : $"there is no folder {folder}"
            );
        }
        BackupIndex? index;
        try
        {
            index = JsonSerializer.Deserialize<BackupIndex>(await File.ReadAllBytesAsync(path, cancel), Json);
        }
        catch (JsonException broken)
        {
            throw new BackupRefusedException($"{path} cannot be read: {broken.Message}");
        }
        if (index?.Format != FormatOfThis || index.Files is null)
        {
            throw new BackupRefusedException(
                $"{path} has the format '{index?.Format}', this version reads {FormatOfThis}"
            );
        }
        var outside = index.Files.FirstOrDefault(file => !IsInside(file.Path));
        return outside is null
            ? index
            : throw new BackupRefusedException($"{path} names '{outside.Path}', which is not a file below the backup");
    }

    private static bool IsInside(string path) =>
        path.Length > 0
        && !path.Contains('\\', StringComparison.Ordinal)
        && path.Split('/').All(part => part.Length > 0 && part is not ("." or ".."));
}

/// <summary>Nothing was written; the message says why and what to do.</summary>
public sealed class BackupRefusedException(string message) : InvalidOperationException(message);
