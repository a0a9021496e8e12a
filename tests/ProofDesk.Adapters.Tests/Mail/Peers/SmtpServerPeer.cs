using System.Buffers;
using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace ProofDesk.Adapters.Tests.Mail.Peers;

/// <summary>The SmtpServer package, in this process.</summary>
internal sealed class SmtpServerPeer : IMailPeer
{
    private readonly CancellationTokenSource _stop = new();
    private readonly ConcurrentQueue<string> _taken = new();
    private readonly Task _running;
    private volatile string _at = "";
    private volatile string _reply = "";

    private SmtpServerPeer(TestAuthority? authority)
    {
        Port = PeerFiles.FreePort();
        var options = new SmtpServerOptionsBuilder()
            .ServerName("peer.example")
            .Endpoint(endpoint =>
            {
                endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port));
                if (authority is not null)
                {
                    using var pem = X509Certificate2.CreateFromPemFile(authority.CertificateFile, authority.KeyFile);
                    endpoint.Certificate(X509CertificateLoader.LoadPkcs12(pem.Export(X509ContentType.Pkcs12), null));
                }
            })
            .Build();
        var services = new ServiceProvider();
        services.Add(new Store(this));
        services.Add(new Filter(this));
        _running = new SmtpServer.SmtpServer(options, services).StartAsync(_stop.Token);
    }

    public int Port { get; }

    public static async Task<IMailPeer> StartAsync(TestAuthority? authority)
    {
        var peer = new SmtpServerPeer(authority);
        await PeerFiles.WaitAsync(peer.Port, () => false);
        return peer;
    }

    public void Answer(string at, string reply) => (_at, _reply) = (at, reply);

    public IReadOnlyList<string> Taken() => [.. _taken];

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _running;
        _stop.Dispose();
    }

    private SmtpResponse? Told(string at) =>
        at == _at
            ? new SmtpResponse((SmtpReplyCode)int.Parse(_reply[..3], CultureInfo.InvariantCulture), _reply[4..])
            : null;

    private sealed class Store(SmtpServerPeer peer) : MessageStore
    {
        public override Task<SmtpResponse> SaveAsync(
            ISessionContext context,
            IMessageTransaction transaction,
            ReadOnlySequence<byte> buffer,
            CancellationToken cancellationToken
        )
        {
            if (peer.Told("data") is { } told)
            {
                return Task.FromResult(told);
            }
            peer._taken.Enqueue(Encoding.UTF8.GetString(buffer.ToArray()));
            return Task.FromResult(SmtpResponse.Ok);
        }
    }

    private sealed class Filter(SmtpServerPeer peer) : MailboxFilter
    {
        public override Task<bool> CanAcceptFromAsync(
            ISessionContext context,
            IMailbox from,
            int size,
            CancellationToken cancellationToken
        ) => peer.Told("mail") is { } told ? throw new SmtpResponseException(told) : Task.FromResult(true);

        public override Task<bool> CanDeliverToAsync(
            ISessionContext context,
            IMailbox to,
            IMailbox from,
            CancellationToken cancellationToken
        ) => peer.Told("rcpt") is { } told ? throw new SmtpResponseException(told) : Task.FromResult(true);
    }
}
