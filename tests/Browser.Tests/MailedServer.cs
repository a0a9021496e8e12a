using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;
using ProofDesk.Web.Tests;
using SmtpServer;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace Browser.Tests;

/// <summary>The server of the web tests with a real mail server beside it: letters leave by SMTP and are caught here.</summary>
public sealed class MailedServer : RunningServer
{
    private readonly CancellationTokenSource stop = new();
    private readonly int port = FreePort();
    private readonly Mailbox mailbox = new();

    protected override IEnumerable<string> Settings =>
        ["--Office:Mail:Host=127.0.0.1", $"--Office:Mail:Port={port}", "--Office:Mail:Security=NoneOnLoopback"];

    public override async Task InitializeAsync()
    {
        var options = new SmtpServerOptionsBuilder().ServerName("localhost").Port(port).Build();
        var services = new ServiceCollection().AddSingleton<IMessageStore>(mailbox).BuildServiceProvider();
        _ = new SmtpServer.SmtpServer(options, services).StartAsync(stop.Token);
        await base.InitializeAsync();
    }

    public override async Task DisposeAsync()
    {
        await base.DisposeAsync();
        await stop.CancelAsync();
        stop.Dispose();
    }

    /// <summary>Waits for the letter whose subject holds these words, in this order.</summary>
    public async Task<MimeMessage> LetterAsync(string first, string then)
    {
        for (var tries = 0; tries < 300; tries++)
        {
            var letter = mailbox.Letters.FirstOrDefault(l =>
                l.Subject is { } s
                && s.StartsWith(first, StringComparison.Ordinal)
                && s.Contains(then, StringComparison.Ordinal)
            );
            if (letter is not null)
                return letter;
            await Task.Delay(200);
        }
        throw new TimeoutException(
            $"no letter '{first} ... {then}' in a minute; there are: {string.Join("; ", mailbox.Letters.Select(l => l.Subject))}"
        );
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private sealed class Mailbox : MessageStore
    {
        public ConcurrentQueue<MimeMessage> Letters { get; } = new();

        public override async Task<SmtpResponse> SaveAsync(
            ISessionContext context,
            IMessageTransaction transaction,
            ReadOnlySequence<byte> buffer,
            CancellationToken cancellationToken
        )
        {
            using var bytes = new MemoryStream(buffer.ToArray());
            Letters.Enqueue(await MimeMessage.LoadAsync(bytes, cancellationToken));
            return SmtpResponse.Ok;
        }
    }
}
