using System.Runtime.InteropServices;

namespace ProofDesk.Adapters.Codecs;

/// <summary>Where the command line that holds the worker verb is, and what it needs to see to run.</summary>
internal sealed record WorkerProgram(string[] Command, string[] Folders, (string Name, string Value)[] Surroundings)
{
    /// <summary>proofdesk beside the running program, started with the runtime that runs us.</summary>
    /// <exception cref="FileNotFoundException">The command line was not shipped beside this program.</exception>
    public static WorkerProgram Beside(string folder)
    {
        var library = Path.Combine(folder, "proofdesk.dll");
        var host = Path.Combine(folder, OperatingSystem.IsWindows() ? "proofdesk.exe" : "proofdesk");
        var runtime = Path.GetFullPath(Path.Combine(RuntimeEnvironment.GetRuntimeDirectory(), "../../.."));
        var dotnet = Path.Combine(runtime, OperatingSystem.IsWindows() ? "dotnet.exe" : "dotnet");
        (string, string)[] surroundings =
        [
            ("PATH", "/usr/bin:/bin"),
            ("HOME", "/tmp"),
            ("LANG", "C.UTF-8"),
            // The heap is fenced so that the runtime reserves little, and a crash dump of a stranger's file is never written.
            ("DOTNET_GCHeapHardLimit", "0x60000000"),
            ("DOTNET_gcServer", "0"),
            ("DOTNET_gcConcurrent", "0"),
            ("DOTNET_EnableDiagnostics", "0"),
            ("DOTNET_EnableWriteXorExecute", "0"),
            // The worker is mostly native code: it should start fast, unlike the proof itself.
            ("DOTNET_TieredCompilation", "1"),
            ("DOTNET_TieredPGO", "0"),
            ("DOTNET_DbgEnableMiniDump", "0"),
            ("DOTNET_ROOT", runtime),
            ("VIPS_CONCURRENCY", "2"),
            ("VIPS_BLOCK_UNTRUSTED", "1"),
            ("VIPS_DISC_THRESHOLD", "4g"),
        ];
        if (File.Exists(library) && File.Exists(dotnet))
            return new([dotnet, library, DecodeWorker.Verb], [runtime, Path.GetFullPath(folder)], surroundings);
        if (File.Exists(host))
            return new([host, DecodeWorker.Verb], [Path.GetFullPath(folder)], surroundings);
        throw new FileNotFoundException(
            $"the command line that reads pictures is missing: {library}; build ProofDesk.Cli, or copy its output beside this program"
        );
    }
}
