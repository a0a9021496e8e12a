using System.Diagnostics;
using System.Runtime.InteropServices;

namespace ProofDesk.Judges;

/// <summary>
/// Programs that long counts start hundreds of times: the tests that are killed and the reader of uploads. Most of what a start costs is
/// compiling (3 of 5 seconds of a test that opens a shop), so they are published once with compiled code, which takes two minutes.
/// </summary>
internal static class QuickPrograms
{
    /// <summary>Environment: a folder of them that was published before, to be used instead.</summary>
    private const string Published = "PROOFDESK_QUICK_PROGRAMS";

    private static readonly Lazy<string?> Compiled = new(Publish);

    /// <summary>
    /// The folder of ProofDesk.Adapters.Tests.dll and proofdesk.dll as published; null where the compiler cannot be had: slower, the same
    /// promises.
    /// </summary>
    public static string? Folder => Compiled.Value;

    private static string? Publish()
    {
        if (Environment.GetEnvironmentVariable(Published) is { Length: > 0 } given)
        {
            return given;
        }
        var folder = Directory.CreateTempSubdirectory("proofdesk-quick-").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        var project = Path.Combine(Root(), "tests", "ProofDesk.Adapters.Tests", "ProofDesk.Adapters.Tests.csproj");
        using var publishing = Process.Start(
            new ProcessStartInfo(
                "dotnet",
                [
                    "publish",
                    project,
                    "--configuration",
                    "Debug",
                    "--runtime",
                    RuntimeInformation.RuntimeIdentifier,
                    "--self-contained",
                    "false",
                    "--artifacts-path",
                    Path.Combine(folder, "made"),
                    "--output",
                    Path.Combine(folder, "out"),
                    "-p:PublishReadyToRun=true",
                    "-p:Optimize=true",
                    "-p:RunAnalyzers=false",
                    "-v",
                    "quiet",
                ]
            )
            {
                UseShellExecute = false,
                RedirectStandardOutput = true,
            }
        )!;
        publishing.StandardOutput.ReadToEnd();
        publishing.WaitForExit();
        return publishing.ExitCode == 0 ? Path.Combine(folder, "out") : null;
    }

    /// <summary>The folder that holds ProofDesk.sln.</summary>
    public static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
        {
            folder =
                Path.GetDirectoryName(folder)
                ?? throw new DirectoryNotFoundException("ProofDesk.sln not found above the tests");
        }
        return folder;
    }
}
