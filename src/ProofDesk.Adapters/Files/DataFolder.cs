namespace ProofDesk.Adapters.Files;

/// <summary>Where everything of one shop lives. Made with mode 0700: the folder holds keys and artwork.</summary>
public sealed class DataFolder
{
    public const string DatabaseName = "proofdesk.db";
    public const string LockName = "proofdesk.lock";
    public const string LogKeyName = "log.key";

    public DataFolder(string root)
    {
        Root = Path.GetFullPath(root);
        foreach (var folder in new[] { Root, Blobs, Keys, Pickup })
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
    }

    public string Root { get; }
    public string Database => Path.Combine(Root, DatabaseName);
    public string Lock => Path.Combine(Root, LockName);
    public string Reserve => Path.Combine(Root, "proofdesk.reserve");
    public string Blobs => Path.Combine(Root, "blobs");
    public string Keys => Path.Combine(Root, "keys");
    public string LogKey => Path.Combine(Keys, LogKeyName);

    /// <summary>The key that a rotation is about to begin with.</summary>
    public string NextLogKey => LogKey + ".next";
    public string LogHighWater => Path.Combine(Keys, "log.high-water");

    /// <summary>The public log key, for `proofdesk verify` on this machine.</summary>
    public string Trust => Path.Combine(Root, "proofdesk.trust");

    public string DataProtectionKeys => Path.Combine(Keys, "data-protection");
    public string Pickup => Path.Combine(Root, "pickup");
}
