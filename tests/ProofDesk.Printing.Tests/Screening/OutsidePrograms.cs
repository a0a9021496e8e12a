using System.Diagnostics;

namespace ProofDesk.Printing.Tests.Screening;

/// <summary>Independent programs as judges; a test whose judge is not installed shows as skipped by name.</summary>
internal static class OutsidePrograms
{
    internal static string Run(string program, params string[] arguments)
    {
        Skip.IfNot(IsInstalled(program), $"{program} is not installed");
        using var process = Process.Start(
            new ProcessStartInfo(program, arguments)
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                UseShellExecute = false,
            }
        )!;
        var errors = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{program} ended with {process.ExitCode}: {errors.Result}");
        return output + errors.Result;
    }

    private static bool IsInstalled(string program) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(Path.PathSeparator)
            .Any(folder => File.Exists(Path.Combine(folder, program)));

    /// <summary>A folder that goes when the test ends.</summary>
    internal sealed class Folder : IDisposable
    {
        private readonly string _path = Directory.CreateTempSubdirectory("screening-").FullName;

        internal string this[string name] => Path.Combine(_path, name);

        public void Dispose() => Directory.Delete(_path, recursive: true);
    }
}
