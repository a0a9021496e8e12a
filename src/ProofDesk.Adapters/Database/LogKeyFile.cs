using System.Security.Cryptography;
using System.Text;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Database;

/// <summary>32 seed bytes in a file of their own, readable by the server's user only.</summary>
internal static class LogKeyFile
{
    private const string FirstLine = "proofdesk-log-key/1 ";

    public static async Task<SigningKey> OpenAsync(string path, string origin, long logSize, CancellationToken cancel)
    {
        if (!File.Exists(path))
        {
            if (logSize > 0)
            {
                throw new LogRefusedException(
                    $"the log has {logSize} leaves but its key {path} is missing; restore the keys folder from the backup"
                );
            }
            await MakeAsync(path, cancel);
        }
        return await ReadAsync(path, origin, cancel);
    }

    public static Task MakeAsync(string path, CancellationToken cancel) =>
        DurableFile.WriteAsync(
            path,
            Encoding.ASCII.GetBytes(FirstLine + Convert.ToBase64String(RandomNumberGenerator.GetBytes(32)) + "\n"),
            UnixFileMode.UserRead | UnixFileMode.UserWrite,
            cancel
        );

    public static async Task<SigningKey> ReadAsync(string path, string origin, CancellationToken cancel)
    {
        var line = (await File.ReadAllTextAsync(path, cancel)).TrimEnd('\n');
        return line.StartsWith(FirstLine, StringComparison.Ordinal)
            ? new SigningKey(origin, Convert.FromBase64String(line[FirstLine.Length..]))
            : throw new LogRefusedException(
                $"{path} is not a log key: its first line must begin with \"{FirstLine.TrimEnd()}\""
            );
    }
}
