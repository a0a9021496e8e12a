using System.Diagnostics;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// How the worker is shut in on this machine: bubblewrap (no network, no home, read-only system, own process table)
/// with resource limits, or only a child process where bubblewrap is missing or not allowed to make namespaces.
/// </summary>
public sealed class Sandbox
{
    private static readonly Lazy<Sandbox> ThisMachine = new(Probe);

    // The reader, its threads, and a program that draws a page: a tenth of it.
    internal const int MostTasks = 512;

    private readonly string? _bwrap;
    private readonly string? _prlimit;
    private readonly bool _canSizeScratch;

    private Sandbox(string? bwrap, string? prlimit, string description, bool canSizeScratch = false) =>
        (_bwrap, _prlimit, Description, _canSizeScratch) = (bwrap, prlimit, description, canSizeScratch);

    /// <summary>Found out once a process.</summary>
    public static Sandbox OfThisMachine => ThisMachine.Value;

    /// <summary>True when strangers' files are read without network, home folder or write access.</summary>
    public bool ShutIn => _bwrap is not null;

    /// <summary>One sentence for the health page.</summary>
    public string Description { get; }

    /// <summary>A child process and no walls, as on a machine without bubblewrap.</summary>
    internal static Sandbox ChildProcessOnly =>
        new(null, Find("prlimit"), "uploads are read in a child process without a sandbox");

    /// <summary>A private folder for the worker, if it needs one.</summary>
    internal Scratch Scratch(bool isNeeded) =>
        ShutIn || !isNeeded ? Codecs.Scratch.InSandbox() : Codecs.Scratch.OnDisk();

    /// <summary>The command that runs the worker shut in as far as this machine can.</summary>
    internal ProcessStartInfo Command(WorkerProgram worker, IEnumerable<string> arguments, DecodeLimits limits)
    {
        var words = new List<string>();
        if (_bwrap is not null)
            words.AddRange(Walls(worker, limits));
        if (_prlimit is not null)
            words.AddRange(Caps(limits));
        words.AddRange(worker.Command);
        words.AddRange(arguments);
        var start = new ProcessStartInfo(words[0], words.Skip(1))
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        foreach (var (name, value) in worker.Surroundings)
            start.Environment[name] = value;
        return start;
    }

    private IEnumerable<string> Walls(WorkerProgram worker, DecodeLimits limits)
    {
        yield return _bwrap!;
        string[] fixedWalls =
        [
            "--unshare-all",
            "--die-with-parent",
            "--new-session",
            "--clearenv",
            // Started by root it would keep root's rights inside its walls, and could mount over them.
            "--cap-drop",
            "ALL",
            "--proc",
            "/proc",
            "--dev",
            "/dev",
        ];
        foreach (var word in fixedWalls)
            yield return word;
        if (_canSizeScratch)
        {
            yield return "--size";
            yield return $"{limits.MaxScratchBytes}";
        }
        yield return "--tmpfs";
        yield return "/tmp";
        string[] system =
        [
            "/usr",
            "/lib",
            "/lib64",
            "/bin",
            "/etc/fonts",
            "/etc/ld.so.cache",
            "/etc/ld.so.conf",
            "/etc/ld.so.conf.d",
            "/var/cache/fontconfig",
            // Where Debian keeps what Ghostscript was told about fonts.
            "/etc/ghostscript",
            "/var/lib/ghostscript",
        ];
        foreach (var folder in system.Concat(worker.Folders))
        {
            yield return "--ro-bind-try";
            yield return folder;
            yield return folder;
        }
        foreach (var (name, value) in worker.Surroundings)
        {
            yield return "--setenv";
            yield return name;
            yield return value;
        }
        yield return "--chdir";
        yield return "/tmp";
        yield return "--";
    }

    private IEnumerable<string> Caps(DecodeLimits limits)
    {
        yield return _prlimit!;
        yield return $"--as={limits.MaxWorkerBytes + limits.MaxFileBytes}";
        yield return $"--cpu={(int)Math.Ceiling(limits.WallClock.TotalSeconds) * 4}";
        yield return $"--fsize={limits.MaxScratchFileBytes}";
        yield return "--nofile=256";
        // Counted inside the sandbox alone; without one it would count everything that the server's user runs. The kernel exempts root.
        if (ShutIn)
            yield return $"--nproc={MostTasks}";
        yield return "--core=0";
    }

    private static Sandbox Probe()
    {
        if (!OperatingSystem.IsLinux())
            return new(
                null,
                null,
                "uploads are read in a child process without a sandbox: this system has no bubblewrap"
            );
        var prlimit = Find("prlimit");
        var caps = prlimit is null ? "without resource limits (prlimit is missing)" : "with resource limits";
        var bwrap = Find("bwrap");
        if (bwrap is null)
            return new(
                null,
                prlimit,
                $"uploads are read in a child process without a sandbox, {caps}: install bubblewrap"
            );
        if (!Works(bwrap))
            return new(
                null,
                prlimit,
                $"uploads are read in a child process without a sandbox, {caps}: bubblewrap may not make namespaces here"
            );
        return new(
            bwrap,
            prlimit,
            $"uploads are read in a bubblewrap sandbox {caps}",
            Works(bwrap, "--size", "1048576")
        );
    }

    private static bool Works(string bwrap, params string[] more)
    {
        var start = new ProcessStartInfo(
            bwrap,
            [
                "--unshare-all",
                "--die-with-parent",
                "--ro-bind",
                "/",
                "/",
                "--proc",
                "/proc",
                "--dev",
                "/dev",
                .. more,
                "--tmpfs",
                "/tmp",
                "true",
            ]
        )
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        try
        {
            using var process = Process.Start(start);
            return process is not null && process.WaitForExit(5000) && process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }

    private static string? Find(string program) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(':', StringSplitOptions.RemoveEmptyEntries)
            .Concat(["/usr/bin", "/bin"])
            .Select(folder => Path.Combine(folder, program))
            .FirstOrDefault(File.Exists);
}
