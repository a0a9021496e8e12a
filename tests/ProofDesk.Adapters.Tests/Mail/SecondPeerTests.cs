using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using MimeKit;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Database;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>python3-aiosmtpd as a server written by other people in another language.</summary>
public sealed class SecondPeerTests
{
    [SkippableFact]
    public async Task Another_implementation_receives_the_same_message_on_loopback()
    {
        using var peer = Peer.StartOrSkip();
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "127.0.0.1",
                    Port = peer.Port,
                    Security = MailSecurity.NoneOnLoopback,
                }
        );
        var proof = await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", CancellationToken.None);

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.True(card.State == MailState.Sent, card.LastReply);
        using var message = await MimeMessage.LoadAsync(Assert.Single(peer.Received()));
        Assert.Equal($"{proof.MailId}@proofdesk.local", message.MessageId);
        Assert.Contains($"/r/{proof.Token}", message.TextBody, StringComparison.Ordinal);
        Assert.Equal("kit@harbour.example", message.Headers["X-RcptTo"]);
    }

    [SkippableFact]
    public async Task Another_implementation_receives_it_over_TLS_vouched_for_by_the_shops_authority()
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-authority-").FullName;
        var authority = new TestAuthority(folder, "localhost");
        using var peer = Peer.StartOrSkip("--tlscert", authority.CertificateFile, "--tlskey", authority.KeyFile);
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "127.0.0.1",
                    Port = peer.Port,
                    Security = MailSecurity.StartTls,
                    AuthorityFile = authority.AuthorityFile,
                }
        );
        await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", CancellationToken.None);

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.True(card.State == MailState.Sent, card.LastReply);
        Assert.Single(peer.Received());
        Directory.Delete(folder, recursive: true);
    }

    [SkippableFact]
    public async Task A_certificate_of_another_authority_pauses_the_queue_and_nothing_leaves()
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-authority-").FullName;
        var theirs = new TestAuthority(folder, "localhost");
        var ours = new TestAuthority(Directory.CreateDirectory(Path.Combine(folder, "ours")).FullName, "localhost");
        using var peer = Peer.StartOrSkip("--tlscert", theirs.CertificateFile, "--tlskey", theirs.KeyFile);
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "127.0.0.1",
                    Port = peer.Port,
                    Security = MailSecurity.StartTls,
                    AuthorityFile = ours.AuthorityFile,
                }
        );
        await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", CancellationToken.None);

        Assert.Equal(MailState.Paused, Assert.Single(await shop.Outbox.ListAsync(null)).State);
        Assert.Empty(peer.Received());
        Directory.Delete(folder, recursive: true);
    }

    private sealed class Peer : IDisposable
    {
        private readonly Process _process;
        private readonly string _folder;

        private Peer(Process process, int port, string folder) => (_process, Port, _folder) = (process, port, folder);

        public int Port { get; }

        public static Peer StartOrSkip(params string[] more)
        {
            const string Missing =
                "python3-aiosmtpd is not installed; apt-get install python3-aiosmtpd to run this test";
            var there = File.Exists("/usr/bin/python3") && Run("-c", "import aiosmtpd");
            if (!there && Environment.GetEnvironmentVariable("CI") is { Length: > 0 })
            {
                Assert.Fail(Missing);
            }
            Skip.IfNot(there, Missing);
            var folder = Directory.CreateTempSubdirectory("proofdesk-peer-").FullName;
            using var free = new TcpListener(IPAddress.Loopback, 0);
            free.Start();
            var port = ((IPEndPoint)free.LocalEndpoint).Port;
            free.Stop();
            string[] arguments =
            [
                "-m",
                "aiosmtpd",
                "-n",
                "-l",
                $"127.0.0.1:{port}",
                .. more,
                "-c",
                "aiosmtpd.handlers.Mailbox",
                Path.Combine(folder, "box"),
            ];
            var process = Process.Start(
                new ProcessStartInfo("/usr/bin/python3", arguments) { WorkingDirectory = folder }
            )!;
            Wait(port);
            return new Peer(process, port, folder);
        }

        public string[] Received() =>
            Directory.Exists(Path.Combine(_folder, "box", "new"))
                ? Directory.GetFiles(Path.Combine(_folder, "box", "new"))
                : [];

        public void Dispose()
        {
            _process.Kill();
            _process.WaitForExit();
            _process.Dispose();
            Directory.Delete(_folder, recursive: true);
        }

        private static bool Run(params string[] arguments)
        {
            using var process = Process.Start(
                new ProcessStartInfo("/usr/bin/python3", arguments)
                {
                    RedirectStandardError = true,
                    UseShellExecute = false,
                }
            )!;
            process.WaitForExit();
            return process.ExitCode == 0;
        }

        private static void Wait(int port)
        {
            for (var attempt = 0; ; attempt++)
            {
                try
                {
                    using var client = new TcpClient("127.0.0.1", port);
                    return;
                }
                catch (SocketException) when (attempt < 100)
                {
                    Thread.Sleep(100);
                }
            }
        }
    }
}
