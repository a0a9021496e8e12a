using System.Diagnostics;

namespace ProofDesk.Adapters.Tests.Mail.Peers;

/// <summary>python3-aiosmtpd.</summary>
internal sealed class AiosmtpdPeer : IMailPeer
{
    private const string Program = """
        import os, ssl, sys
        from aiosmtpd.controller import Controller
        folder, port, certificate, key = sys.argv[1], int(sys.argv[2]), sys.argv[3], sys.argv[4]
        def told(at):
            with open(folder + '/at') as f:
                if f.read() != at: return None
            with open(folder + '/reply') as f: return f.read()
        class Handler:
            taken = 0
            async def handle_MAIL(self, server, session, envelope, address, options):
                if told('mail'): return told('mail')
                envelope.mail_from = address
                return '250 ok'
            async def handle_RCPT(self, server, session, envelope, address, options):
                if told('rcpt'): return told('rcpt')
                envelope.rcpt_tos.append(address)
                return '250 ok'
            async def handle_DATA(self, server, session, envelope):
                if told('data'): return told('data')
                Handler.taken += 1
                with open('%s/%04d.half' % (folder, Handler.taken), 'wb') as f: f.write(envelope.content)
                os.rename('%s/%04d.half' % (folder, Handler.taken), '%s/%04d.eml' % (folder, Handler.taken))
                return '250 ok'
        more = {}
        if certificate:
            more['tls_context'] = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
            more['tls_context'].load_cert_chain(certificate, key)
        controller = Controller(Handler(), hostname='127.0.0.1', port=port, **more)
        controller.start()
        sys.stdin.read()
        controller.stop()
        """;

    private readonly PeerFiles _files = new("aiosmtpd");
    private readonly Process _process;

    private AiosmtpdPeer(TestAuthority? authority)
    {
        Port = PeerFiles.FreePort();
        _process = Process.Start(
            new ProcessStartInfo(
                "/usr/bin/python3",
                ["-c", Program, _files.Folder, $"{Port}", authority?.CertificateFile ?? "", authority?.KeyFile ?? ""]
            )
            {
                UseShellExecute = false,
                RedirectStandardInput = true,
            }
        )!;
    }

    public static bool IsThere => Directory.Exists("/usr/lib/python3/dist-packages/aiosmtpd");

    public int Port { get; }

    public static async Task<IMailPeer> StartAsync(TestAuthority? authority)
    {
        var peer = new AiosmtpdPeer(authority);
        await PeerFiles.WaitAsync(peer.Port, () => peer._process.HasExited);
        return peer;
    }

    public void Answer(string at, string reply) => _files.Answer(at, reply);

    public IReadOnlyList<string> Taken() =>
        [.. Directory.GetFiles(_files.Folder, "*.eml").Order().Select(file => File.ReadAllText(file))];

    public async ValueTask DisposeAsync()
    {
        _process.StandardInput.Close();
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(5));
        try
        {
            await _process.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            _process.Kill();
        }
        _process.Dispose();
        _files.Dispose();
    }
}
