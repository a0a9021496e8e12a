using System.Diagnostics;

namespace ProofDesk.Judges;

/// <summary>Independent programs as makers and judges of files. A missing one skips the test by name.</summary>
internal static class Programs
{
    public static string Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        Process? process = null;
        try
        {
            process = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Skip.If(true, $"{program} is not installed");
        }
        using (process!)
        {
            var error = process!.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0
                ? output
                : throw new InvalidOperationException($"{program} ended with {process.ExitCode}: {error.Result}");
        }
    }
}
