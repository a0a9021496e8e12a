namespace ProofDesk.Adapters.Files;

/// <summary>Files that a write puts beside its target until it is whole. After a crash they are litter.</summary>
internal static class LeftOvers
{
    public static IEnumerable<string> In(DataFolder folder) =>
        Files(Path.Combine(folder.Blobs, "tmp"), "*")
            .Concat(Files(Path.Combine(folder.Pickup, "tmp"), "*"))
            .Concat(Files(folder.Keys, "*.tmp"))
            .Concat(Files(folder.Root, "*.tmp"));

    /// <summary>Those last written before this moment; nobody may be writing them any more.</summary>
    public static void Remove(DataFolder folder, DateTimeOffset before)
    {
        foreach (var path in In(folder))
        {
            if (File.GetLastWriteTimeUtc(path) < before.UtcDateTime)
            {
                File.Delete(path);
            }
        }
    }

    private static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.Exists(folder) ? Directory.GetFiles(folder, pattern).Order(StringComparer.Ordinal) : [];
}
