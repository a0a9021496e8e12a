namespace ProofDesk.Adapters.Work;

internal static class WorkerName
{
    /// <summary>Names the holder of a lease to a person reading the table; nothing depends on it.</summary>
    public static string Of(string kind) => $"{kind}/{Environment.ProcessId}";
}
