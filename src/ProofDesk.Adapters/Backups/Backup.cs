using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Backups;

/// <param name="Keys">whoever holds the keys can sign the log and open waiting letters; without them a restore needs them from elsewhere</param>
/// <param name="SettingsFile">a file to keep beside it, or null</param>
public sealed record BackupChoice(bool Keys = true, string? SettingsFile = null);

/// <param name="Damaged">stored files that no longer hash to their name; they are copied as they are</param>
public sealed record BackupMade(BackupIndex Index, string IndexSha256, IReadOnlyList<string> Damaged);

/// <summary>
/// `proofdesk backup`: beside a working server. The order makes it whole: the high-water mark before the database, which may be ahead
/// of it but never behind; the database before the files, so that every file it names is there; the index last.
/// </summary>
public sealed class Backup(OfficeSettings settings, TimeProvider time)
{
    /// <exception cref="BackupRefusedException">nothing was written</exception>
    public async Task<BackupMade> MakeAsync(string to, BackupChoice choice, CancellationToken cancel = default)
    {
        var sqlite = settings.PostgresConnection.Length == 0;
        var root = Path.GetFullPath(settings.DataFolder);
        Refuse(root, sqlite, to, choice);
        var folder = new DataFolder(root);
        CheckedCopy.MakeFolder(to);
        var files = new List<BackupFile>();
        var highWater = File.Exists(folder.LogHighWater)
            ? await File.ReadAllBytesAsync(folder.LogHighWater, cancel)
            : null;
        Fault.Point("backup.before-database");
        var (leaves, checkpoint) = sqlite ? await DatabaseAsync(folder, to, files, cancel) : (0, "");
        Fault.Point("backup.after-database");
        var damaged = await BlobsAsync(folder, to, files, cancel);
        Fault.Point("backup.after-files");
        await LettersAsync(folder, to, files, cancel);
        if (choice.Keys)
        {
            await KeysAsync(folder, to, highWater, files, cancel);
        }
        if (File.Exists(folder.Trust))
        {
            files.Add(await CheckedCopy.CopyAsync(folder.Trust, to, Path.GetFileName(folder.Trust), cancel));
        }
        if (choice.SettingsFile is { } kept)
        {
            files.Add(await CheckedCopy.CopyAsync(kept, to, $"settings/{Path.GetFileName(kept)}", cancel));
        }
        CheckedCopy.FlushFolders(to);
        Fault.Point("backup.before-index");
        var index = new BackupIndex(
            BackupIndex.FormatOfThis,
            time.GetUtcNow(),
            sqlite ? "sqlite" : "postgresql",
            leaves,
            checkpoint,
            choice.Keys,
            [.. files.OrderBy(file => file.Path, StringComparer.Ordinal)]
        );
        await index.WriteAsync(to, cancel);
        Fault.Point("backup.after-index");
        return new BackupMade(index, await DigestAsync(Path.Combine(to, BackupIndex.FileName), cancel), damaged);
    }

    private static void Refuse(string root, bool sqlite, string to, BackupChoice choice)
    {
        if (!Directory.Exists(root) || (sqlite && !File.Exists(Path.Combine(root, DataFolder.DatabaseName))))
        {
            throw new BackupRefusedException($"there is no data folder with a database at {root}");
        }
        if (Directory.Exists(to) && Directory.EnumerateFileSystemEntries(to).Any())
        {
            throw new BackupRefusedException($"{to} is not empty; a backup goes into a folder of its own");
        }
        if (Path.GetFullPath(to).StartsWith(root + Path.DirectorySeparatorChar, StringComparison.Ordinal))
        {
            throw new BackupRefusedException($"{to} lies inside the data folder; choose one on another disk");
        }
        if (choice.SettingsFile is { } kept && !File.Exists(kept))
        {
            throw new BackupRefusedException($"there is no settings file {kept}");
        }
    }

    // VACUUM INTO reads one snapshot, however long it takes, and writers go on beside it.
    private async Task<(long Leaves, string Checkpoint)> DatabaseAsync(
        DataFolder folder,
        string to,
        List<BackupFile> files,
        CancellationToken cancel
    )
    {
        var copy = Path.Combine(Path.GetFullPath(to), DataFolder.DatabaseName);
        using (var office = new Office(settings, folder))
        {
            await using var db = office.Open();
            await db.Database.ExecuteSqlAsync($"VACUUM INTO {copy}", cancel);
        }
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(copy, UnixFileMode.UserRead | UnixFileMode.UserWrite);
        }
        await using (var written = new FileStream(copy, FileMode.Open, FileAccess.ReadWrite))
        {
            RandomAccess.FlushToDisk(written.SafeFileHandle);
        }
        var head = await HeadAsync(copy, cancel);
        files.Add(new BackupFile(DataFolder.DatabaseName, new FileInfo(copy).Length, await DigestAsync(copy, cancel)));
        return head;
    }

    private static async Task<(long Leaves, string Checkpoint)> HeadAsync(string copy, CancellationToken cancel)
    {
        var address = new SqliteConnectionStringBuilder
        {
            DataSource = copy,
            Mode = SqliteOpenMode.ReadOnly,
            Pooling = false,
        };
        await using var connection = new SqliteConnection(address.ToString());
        await connection.OpenAsync(cancel);
        await using var command = connection.CreateCommand();
        command.CommandText =
            "SELECT (SELECT count(*) FROM log_leaf), coalesce((SELECT \"Note\" FROM log_checkpoint ORDER BY \"Size\" DESC LIMIT 1), '')";
        await using var row = await command.ExecuteReaderAsync(cancel);
        await row.ReadAsync(cancel);
        return (row.GetInt64(0), row.GetString(1));
    }

    private static async Task<List<string>> BlobsAsync(
        DataFolder folder,
        string to,
        List<BackupFile> files,
        CancellationToken cancel
    )
    {
        var damaged = new List<string>();
        var had = files.Count;
        var root = Path.Combine(folder.Blobs, "sha256");
        foreach (var path in Below(root))
        {
            var below = "blobs/sha256/" + Path.GetRelativePath(root, path).Replace('\\', '/');
            var copied = await CheckedCopy.CopyAsync(path, to, below, cancel);
            files.Add(copied);
            if (!string.Equals(copied.Sha256, Path.GetFileName(path), StringComparison.Ordinal))
            {
                damaged.Add(path);
            }
            if (files.Count == had + 1)
            {
                Fault.Point("backup.amid-files");
            }
        }
        return damaged;
    }

    // Letters nobody collected yet. Their rows say sent, so no start would write them again.
    private static async Task LettersAsync(
        DataFolder folder,
        string to,
        List<BackupFile> files,
        CancellationToken cancel
    )
    {
        foreach (var path in Below(Path.Combine(folder.Pickup, "new")))
        {
            try
            {
                files.Add(await CheckedCopy.CopyAsync(path, to, $"pickup/new/{Path.GetFileName(path)}", cancel));
            }
            catch (FileNotFoundException)
            {
                // Collected meanwhile.
            }
        }
    }

    private static async Task KeysAsync(
        DataFolder folder,
        string to,
        byte[]? highWater,
        List<BackupFile> files,
        CancellationToken cancel
    )
    {
        foreach (var path in Below(folder.Keys))
        {
            if (path != folder.LogHighWater && !path.EndsWith(".tmp", StringComparison.Ordinal))
            {
                var below = "keys/" + Path.GetRelativePath(folder.Keys, path).Replace('\\', '/');
                files.Add(await CheckedCopy.CopyAsync(path, to, below, cancel));
            }
        }
        if (highWater is not null)
        {
            files.Add(
                await CheckedCopy.WriteAsync(highWater, to, "keys/" + Path.GetFileName(folder.LogHighWater), cancel)
            );
        }
    }

    private static async Task<string> DigestAsync(string path, CancellationToken cancel)
    {
        await using var file = File.OpenRead(path);
        return Convert.ToHexStringLower(await System.Security.Cryptography.SHA256.HashDataAsync(file, cancel));
    }

    private static IEnumerable<string> Below(string folder) =>
        Directory.Exists(folder)
            ? Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            : [];
}
