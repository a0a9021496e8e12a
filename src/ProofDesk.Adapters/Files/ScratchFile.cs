namespace ProofDesk.Adapters.Files;

/// <summary>Room for what is too large for memory: a file that is gone when it is closed.</summary>
public static class ScratchFile
{
    public static FileStream Open() =>
        new(
            Path.Combine(Path.GetTempPath(), $"proofdesk-{Guid.NewGuid():N}"),
            FileMode.CreateNew,
            FileAccess.ReadWrite,
            FileShare.None,
            1 << 16,
            FileOptions.DeleteOnClose | FileOptions.Asynchronous
        );
}
