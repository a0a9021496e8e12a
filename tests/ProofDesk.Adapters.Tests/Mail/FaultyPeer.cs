using System.Diagnostics;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>python3-aiosmtpd, told to answer one command with one code.</summary>
internal sealed class FaultyPeer : IDisposable
{
    private const string Program = """
        import sys
        from aiosmtpd.controller import Controller
        at, code = sys.argv[1], sys.argv[2]
        answer = code + ' told so'
        class Handler:
            async def handle_MAIL(self, server, session, envelope, address, options):
                if at == 'mail': return answer
                envelope.mail_from = address
                return '250 ok'
            async def handle_RCPT(self, server, session, envelope, address, options):
                if at == 'rcpt': return answer
                envelope.rcpt_tos.append(address)
                return '250 ok'
            async def handle_DATA(self, server, session, envelope):
                return answer if at == 'data' else '250 ok'
        for port in range(20000 + int(sys.argv[3]), 60000, 97):
            try:
                controller = Controller(Handler(), hostname='127.0.0.1', port=port)
                controller.start()
                break
            except OSError:
                continue
        print(port, flush=True)
        sys.stdin.read()
        controller.stop()
        """;

    private readonly Process _process;

    private FaultyPeer(Process process, int port) => (_process, Port) = (process, port);

    public int Port { get; }

    public static FaultyPeer StartOrSkip(string at, int code)
    {
        Skip.IfNot(
            Directory.Exists("/usr/lib/python3/dist-packages/aiosmtpd"),
            "aiosmtpd is not installed; apt-get install python3-aiosmtpd to run this test"
        );
        var process = Process.Start(
            new ProcessStartInfo("/usr/bin/python3", ["-c", Program, at, $"{code}", $"{Random.Shared.Next(20000)}"])
            {
                UseShellExecute = false,
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
            }
        )!;
        return new FaultyPeer(process, int.Parse(process.StandardOutput.ReadLine()!));
    }

    public void Dispose()
    {
        _process.StandardInput.Close();
        if (!_process.WaitForExit(5000))
        {
            _process.Kill();
        }
        _process.Dispose();
    }
}
