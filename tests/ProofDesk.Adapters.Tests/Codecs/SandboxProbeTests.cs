using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using ProofDesk.Adapters.Codecs;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>A hostile program in the worker's place tries what an exploited decoder would. Each line it prints is one try.</summary>
public sealed class SandboxProbeTests(ITestOutputHelper output)
{
    private const string Probe = """
        import ctypes, os, signal, socket, sys
        port, parent, outside = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
        libc = ctypes.CDLL(None, use_errno=True)
        def attempt(name, what):
            try:
                print(name + ': ' + ('SUCCEEDED' if what() else 'refused'), flush=True)
            except BaseException as e:
                print(name + ': refused', flush=True)
        attempt('network on this machine', lambda: socket.create_connection(('127.0.0.1', port), 2) and True)
        attempt('network outside', lambda: socket.create_connection(('192.0.2.1', 80), 1) and True)
        attempt('raw socket', lambda: socket.socket(socket.AF_PACKET, socket.SOCK_RAW, 3).bind(('eth0', 0)) is None)
        attempt('read /etc/passwd', lambda: open('/etc/passwd').read() and True)
        attempt('read /etc/shadow', lambda: open('/etc/shadow').read() and True)
        attempt('list /root', lambda: os.listdir('/root') is not None)
        attempt('list /home', lambda: os.listdir('/home') is not None)
        attempt('read a file of the server', lambda: open(outside).read() and True)
        attempt('write beside it', lambda: open(outside + '.new', 'w').write('x') and True)
        attempt('write to /usr', lambda: open('/usr/proofdesk-probe', 'w').write('x') and True)
        attempt('write to /etc', lambda: open('/etc/fonts/proofdesk-probe', 'w').write('x') and True)
        attempt('signal the server', lambda: os.kill(parent, 0) is None)
        attempt('see other processes', lambda: os.path.exists('/proc/%d' % parent) and parent != os.getpid())
        attempt('trace the server', lambda: libc.ptrace(16, parent, 0, 0) == 0)
        attempt('mount', lambda: libc.mount(b'none', b'/mnt', b'tmpfs', 0, None) == 0)
        attempt('mount over /usr', lambda: libc.mount(b'none', b'/usr', b'tmpfs', 0, None) == 0)
        attempt('change the host name', lambda: libc.sethostname(b'probe', 5) == 0 and os.uname().nodename != 'probe')
        attempt('load a kernel module', lambda: libc.syscall(175, b'', 0, b'') == 0)
        attempt('read a secret of the environment', lambda: os.environ['PROOFDESK_PROBE_SECRET'] and True)
        attempt('keep a file descriptor of the server', lambda: any(not os.readlink('/proc/self/fd/' + f).startswith(('pipe:', '/dev/null', '/proc/')) for f in os.listdir('/proc/self/fd') if os.path.exists('/proc/self/fd/' + f)))
        attempt('take 10 GB of memory', lambda: len(bytearray(10 << 30)) > 0)
        def big():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            with open('/tmp/big', 'wb') as f:
                f.truncate(10 << 30)
            return True
        attempt('write a file of 10 GB', big)
        def stay():
            if os.fork() == 0:
                os.setsid()
                os.execv('/usr/bin/sleep', ['sleep', '314.159'])
            return False
        attempt('leave a process behind', stay)
        """;

    [SkippableFact]
    public async Task A_program_in_the_workers_place_gets_nowhere()
    {
        Skip.IfNot(Sandbox.OfThisMachine.ShutIn, Sandbox.OfThisMachine.Description);
        Skip.IfNot(File.Exists("/usr/bin/python3"), "python3 is not installed");
        var outside = Path.Combine(Directory.CreateTempSubdirectory("proofdesk-probe-").FullName, "server.db");
        await File.WriteAllTextAsync(outside, "secret");
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;
        var worker = new WorkerProgram(
            ["/usr/bin/python3", "-c", Probe, $"{port}", $"{Environment.ProcessId}", outside],
            [],
            [("PATH", "/usr/bin:/bin")]
        );
        var start = Sandbox.OfThisMachine.Command(worker, [], DecodeLimits.Default);
        start.Environment["PROOFDESK_PROBE_SECRET"] = "x";

        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var errors = process.StandardError.ReadToEndAsync();
        var lines = (await process.StandardOutput.ReadToEndAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        await process.WaitForExitAsync();

        output.WriteLine(string.Join(Environment.NewLine, lines));
        Assert.True(lines.Length == 23, $"{lines.Length} tries: {await errors}");
        Assert.Equal([], lines.Where(line => !line.EndsWith(": refused", StringComparison.Ordinal)));
        Assert.Equal(["server.db"], Directory.GetFiles(Path.GetDirectoryName(outside)!).Select(Path.GetFileName));
        Assert.False(listener.Pending());
        Assert.DoesNotContain(
            Process.GetProcessesByName("sleep"),
            p => File.ReadAllText($"/proc/{p.Id}/cmdline").Contains("314.159", StringComparison.Ordinal)
        );
        Directory.Delete(Path.GetDirectoryName(outside)!, recursive: true);
    }

    [SkippableFact]
    public async Task A_program_that_only_multiplies_is_stopped_at_its_number()
    {
        const string Forks = """
            import os, time
            made = 0
            try:
                while made < 3000:
                    if os.fork() == 0:
                        time.sleep(60)
                        os._exit(0)
                    made += 1
            except OSError:
                pass
            print(made, flush=True)
            """;
        Skip.IfNot(Sandbox.OfThisMachine.ShutIn, Sandbox.OfThisMachine.Description);
        Skip.IfNot(File.Exists("/usr/bin/python3"), "python3 is not installed");
        var worker = new WorkerProgram(["/usr/bin/python3", "-c", Forks], [], [("PATH", "/usr/bin:/bin")]);
        var start = Sandbox.OfThisMachine.Command(worker, [], DecodeLimits.Default);
        // The kernel sets root no such limit.
        if (Environment.IsPrivilegedProcess)
        {
            var words = start.ArgumentList.Prepend(start.FileName).ToList();
            start.ArgumentList.Clear();
            foreach (var word in (string[])["-u", "nobody", "--", .. words])
            {
                start.ArgumentList.Add(word);
            }
            start.FileName = "/usr/sbin/runuser";
        }

        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var errors = process.StandardError.ReadToEndAsync();
        var made = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();

        Skip.If(
            (await errors).Contains("namespace", StringComparison.Ordinal),
            "users other than root may not make namespaces here"
        );
        Assert.InRange(int.Parse(made), 1, Sandbox.MostTasks);
    }
}
