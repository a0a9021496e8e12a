using System.Diagnostics;

namespace ProofDesk.Adapters;

/// <summary>
/// Named places between two effects. Tests break there, one after the other; a release build has no trace of them.
/// </summary>
internal static class Fault
{
    private static readonly AsyncLocal<Action<string>?> Hook = new();

    /// <summary>For the current flow of calls only, so that parallel tests do not meet.</summary>
    public static Action<string>? OnPoint
    {
        set => Hook.Value = value;
    }

    [Conditional("DEBUG")]
    public static void Point(string name) => Hook.Value?.Invoke(name);
}
