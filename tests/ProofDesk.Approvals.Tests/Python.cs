using System.Diagnostics;

namespace ProofDesk.Approvals.Tests;

/// <summary>Runs a second opinion written in another language; without python3 the test shows as skipped by name.</summary>
internal static class Python
{
    /// <summary>What a script beside the tests prints.</summary>
    public static string Run(string script, params string[] arguments)
    {
        using var python = Started([Path.Combine(AppContext.BaseDirectory, script), .. arguments]);
        Skip.If(python is null, $"python3 is not installed: {script} was not run");
        var said = python!.StandardOutput.ReadToEnd().Trim();
        python.WaitForExit();
        return said;
    }

    private static Process? Started(string[] arguments)
    {
        try
        {
            return Process.Start(
                new ProcessStartInfo("python3", arguments) { RedirectStandardOutput = true, UseShellExecute = false }
            );
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }
}
