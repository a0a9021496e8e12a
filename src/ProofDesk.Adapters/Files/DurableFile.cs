using System.Runtime.InteropServices;

namespace ProofDesk.Adapters.Files;

/// <summary>
/// Write beside, flush, rename, flush the folder. .NET refuses to open a folder, so its flush goes through open and fsync.
/// A failed flush is never tried again: after an error the kernel may have dropped the pages and would report success.
/// </summary>
internal static partial class DurableFile
{
    private const int ReadOnlyDirectory = 0x10000; // O_RDONLY | O_DIRECTORY on Linux x86-64; arm64 differs, see below.

    public static async Task WriteAsync(
        string path,
        ReadOnlyMemory<byte> bytes,
        UnixFileMode? mode,
        CancellationToken cancel
    )
    {
        var beside = $"{path}.{Guid.NewGuid():N}.tmp";
        try
        {
            await using (var file = Create(beside, mode))
            {
                await file.WriteAsync(bytes, cancel);
                RandomAccess.FlushToDisk(file.SafeFileHandle);
            }
            Fault.Point("durable-file.after-temporary");
            File.Move(beside, path, overwrite: true);
            Fault.Point("durable-file.after-rename");
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
        FlushFolder(Path.GetDirectoryName(path)!);
    }

    public static FileStream Create(string path, UnixFileMode? mode = null)
    {
        var options = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.Write,
            Share = FileShare.None,
            Options = FileOptions.Asynchronous,
        };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = mode ?? (UnixFileMode.UserRead | UnixFileMode.UserWrite);
        }
        return new FileStream(path, options);
    }

    public static void FlushFolder(string folder)
    {
        if (!OperatingSystem.IsLinux())
        {
            return; // NTFS journals the rename; other systems have no better call from here.
        }
        var flags = RuntimeInformation.ProcessArchitecture == Architecture.Arm64 ? 0x4000 : ReadOnlyDirectory;
        var handle = Open(folder, flags);
        if (handle < 0)
        {
            throw new IOException(
                $"folder {folder} cannot be opened for flushing: error {Marshal.GetLastPInvokeError()}"
            );
        }
        try
        {
            if (Fsync(handle) != 0)
            {
                throw new IOException(
                    $"folder {folder} cannot be flushed to disk: error {Marshal.GetLastPInvokeError()}"
                );
            }
        }
        finally
        {
            _ = Close(handle);
        }
    }

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Fsync(int handle);

    [LibraryImport("libc", EntryPoint = "close")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Close(int handle);
}
