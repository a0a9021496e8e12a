namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// A folder for what a drawing program leaves behind. Inside the sandbox it is memory that ends with the worker; without a
/// sandbox it is a private folder that the parent takes away, whatever became of the worker.
/// </summary>
internal sealed class Scratch : IDisposable
{
    private readonly string? _made;

    private Scratch(string folder, string? made) => (Folder, _made) = (folder, made);

    /// <summary>As the worker sees it.</summary>
    public string Folder { get; }

    public static Scratch InSandbox() => new("/tmp", null);

    public static Scratch OnDisk()
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-page-").FullName;
        return new(folder, folder);
    }

    public void Dispose()
    {
        // A program that was just killed may still hold a file for a moment.
        for (var tries = 0; _made is not null && tries < 20 && Directory.Exists(_made); tries++)
        {
            try
            {
                Directory.Delete(_made, recursive: true);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                Thread.Sleep(50);
            }
        }
    }
}
