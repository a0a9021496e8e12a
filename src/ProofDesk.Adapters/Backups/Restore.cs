using System.Security.Cryptography;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Backups;

/// <param name="Keys">the keys folder to use instead of the one in the backup: it holds the newest high-water mark</param>
/// <param name="LastSeen">text of a receipt or checkpoint that reached somebody, or null</param>
/// <param name="IndexSha256">digest of the index as the backup printed it, or null</param>
public sealed record RestoreChoice(string? Keys = null, string? LastSeen = null, string? IndexSha256 = null);

/// <param name="Lost">why the log will not sign, or null</param>
public sealed record Restored(BackupIndex Index, StoreReport Report, string? Lost);

/// <summary>
/// `proofdesk restore`: into a folder that is not there yet. Every digest is checked on the way; the folder appears under its name
/// when all of it is there, and is verified at the end.
/// </summary>
public sealed class Restore(OfficeSettings settings, TimeProvider time)
{
    private const string KeysFolder = "keys/";

    /// <exception cref="BackupRefusedException">nothing was restored</exception>
    public async Task<Restored> RunAsync(string from, RestoreChoice choice, CancellationToken cancel = default)
    {
        var into = Path.GetFullPath(settings.DataFolder);
        RefuseOccupied(into);
        var index = await BackupIndex.ReadAsync(from, cancel);
        await RefuseOtherIndexAsync(from, choice, cancel);
        RefuseMissingKeys(index, choice);
        var beside = $"{into}.restoring-{Guid.NewGuid():N}";
        try
        {
            await CopyAsync(from, beside, index, choice, cancel);
            CheckedCopy.FlushFolders(beside);
            if (Directory.Exists(into))
            {
                Directory.Delete(into);
            }
            Directory.Move(beside, into);
            DurableFile.FlushFolder(Path.GetDirectoryName(into)!);
        }
        catch
        {
            if (Directory.Exists(beside))
            {
                Directory.Delete(beside, recursive: true);
            }
            throw;
        }
        var report = await new StoreCheck(settings, time).RunAsync(StoreCheckOptions.Usual, cancel);
        return new Restored(index, report, Lost(report, choice));
    }

    private static void RefuseOccupied(string into)
    {
        if (!Directory.Exists(into) || !Directory.EnumerateFileSystemEntries(into).Any())
        {
            return;
        }
        throw new BackupRefusedException(
            InUse(into)
                ? $"{into} is in use by a running server; restore into another folder, or stop it and move its folder away"
                : $"{into} is not empty; move it away first (keep its keys folder: it knows the end of the log) or restore beside it"
        );
    }

    private static bool InUse(string folder)
    {
        var held = Path.Combine(folder, DataFolder.LockName);
        if (!File.Exists(held))
        {
            return false;
        }
        try
        {
            using var free = new FileStream(held, FileMode.Open, FileAccess.ReadWrite, FileShare.None);
            return false;
        }
        catch (IOException)
        {
            return true;
        }
    }

    private static async Task RefuseOtherIndexAsync(string from, RestoreChoice choice, CancellationToken cancel)
    {
        var bytes = await File.ReadAllBytesAsync(Path.Combine(from, BackupIndex.FileName), cancel);
        var found = Convert.ToHexStringLower(SHA256.HashData(bytes));
        if (choice.IndexSha256 is { } told && !string.Equals(told, found, StringComparison.Ordinal))
        {
            throw new BackupRefusedException(
                $"the index of the backup hashes to {found}, you expect {told}: it was changed"
            );
        }
    }

    private static void RefuseMissingKeys(BackupIndex index, RestoreChoice choice)
    {
        if (!index.Keys && choice.Keys is null)
        {
            throw new BackupRefusedException(
                "the backup was made without keys; name the keys folder it belongs to with --keys FOLDER"
            );
        }
        if (choice.Keys is { } folder && !File.Exists(Path.Combine(folder, DataFolder.LogKeyName)))
        {
            throw new BackupRefusedException($"{folder} holds no {DataFolder.LogKeyName}; it is not a keys folder");
        }
    }

    private static async Task CopyAsync(
        string from,
        string beside,
        BackupIndex index,
        RestoreChoice choice,
        CancellationToken cancel
    )
    {
        CheckedCopy.MakeFolder(beside);
        var damaged = new List<string>();
        foreach (var file in index.Files)
        {
            if (choice.Keys is not null && file.Path.StartsWith(KeysFolder, StringComparison.Ordinal))
            {
                continue;
            }
            var source = Path.Combine(from, file.Path);
            if (!File.Exists(source))
            {
                damaged.Add($"{file.Path} is missing");
                continue;
            }
            var copied = await CheckedCopy.CopyAsync(source, beside, file.Path, cancel);
            if (copied != file)
            {
                damaged.Add($"{file.Path} is not what was backed up");
            }
        }
        if (damaged.Count > 0)
        {
            throw new BackupRefusedException(
                $"the backup is damaged, nothing was restored: {string.Join("; ", damaged.Take(10))}"
                    + (damaged.Count > 10 ? $"; and {damaged.Count - 10} more" : "")
            );
        }
        if (choice.Keys is not { } keys)
        {
            return;
        }
        foreach (var path in Directory.GetFiles(keys, "*", SearchOption.AllDirectories))
        {
            await CheckedCopy.CopyAsync(path, beside, KeysFolder + Path.GetRelativePath(keys, path), cancel);
        }
    }

    // The backup's own mark cannot be ahead of its own database: what shows a loss comes from outside it.
    private static string? Lost(StoreReport report, RestoreChoice choice)
    {
        var ahead = report.Problems.FirstOrDefault(problem => problem.Code == "high-water.ahead");
        if (ahead is not null)
        {
            return ahead.Text;
        }
        if (choice.LastSeen is null)
        {
            return null;
        }
        var note = choice.LastSeen.StartsWith("c2sp.org/tlog-proof", StringComparison.Ordinal)
            ? TlogProof.Parse(choice.LastSeen).CheckpointNote
            : choice.LastSeen;
        var size = Checkpoint.ReadUnverified(note).Size;
        return size > report.Leaves
            ? $"the receipt you gave was signed over {size} leaves, the restored log has {report.Leaves}: "
                + $"{size - report.Leaves} are lost; do not let this server sign, look for a newer backup"
            : null;
    }
}
