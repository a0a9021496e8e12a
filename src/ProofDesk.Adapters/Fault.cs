using System.Diagnostics;

namespace ProofDesk.Adapters;

/// <summary>
/// Named places between two effects. Tests break there, one after the other, or let the whole process die there; a release build has
/// no trace of them.
/// </summary>
internal static class Fault
{
    /// <summary>Environment: the process kills itself (SIGKILL) at the point with this number, counted from 1 since its start.</summary>
    public const string DieAt = "PROOFDESK_DIE_AT";

    /// <summary>Environment: what SQLite is told instead of FULL, so that a test can show that FULL is needed.</summary>
    public const string Synchronous = "PROOFDESK_TEST_SYNCHRONOUS";

    private static readonly AsyncLocal<Action<string>?> Hook = new();

    /// <summary>For the current flow of calls only, so that parallel tests do not meet.</summary>
    public static Action<string>? OnPoint
    {
        set => Hook.Value = value;
    }

    [Conditional("DEBUG")]
    public static void Point(string name)
    {
        Hook.Value?.Invoke(name);
        Count(name);
    }

#if DEBUG
    private static readonly int Last = int.TryParse(Environment.GetEnvironmentVariable(DieAt), out var at) ? at : 0;
    private static int _passed;

    /// <summary>FULL: a commit survives power loss.</summary>
    public static string SqliteSynchronous { get; } = Environment.GetEnvironmentVariable(Synchronous) ?? "FULL";

    private static void Count(string name)
    {
        if (Last == 0 || Interlocked.Increment(ref _passed) != Last)
        {
            return;
        }
        Console.WriteLine($"dies {name}");
        Console.Out.Flush();
        using var self = Process.GetCurrentProcess();
        self.Kill();
        Thread.Sleep(Timeout.Infinite);
    }
#else
    public const string SqliteSynchronous = "FULL";

    private static void Count(string name) { }
#endif
}
