using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Tests.Database;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>A mail server in this process that can be told how to answer.</summary>
public sealed class SmtpTests
{
    private static readonly CancellationToken None = CancellationToken.None;

    [Fact]
    public async Task A_mail_arrives_as_it_was_stored_and_is_marked_sent()
    {
        await using var server = new Catcher(_ => SmtpResponse.Ok);
        await using var shop = await OpenAsync(server, MailSecurity.NoneOnLoopback);
        var proof = await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal(MailState.Sent, card.State);
        using var message = await MimeKit.MimeMessage.LoadAsync(new MemoryStream(Assert.Single(server.Received)));
        Assert.Equal($"{proof.MailId}@proofdesk.local", message.MessageId);
        Assert.Contains($"/r/{proof.Token}", message.TextBody, StringComparison.Ordinal);
        Assert.Null(await shop.Outbox.TextOfAsync(proof.MailId));
    }

    [Fact]
    public async Task A_greylisted_mail_waits_1_5_15_30_60_minutes_and_then_goes_out_unchanged()
    {
        var busy = 5;
        await using var server = new Catcher(_ =>
            busy-- > 0 ? new SmtpResponse((SmtpReplyCode)451, "try later") : SmtpResponse.Ok
        );
        await using var shop = await OpenAsync(server, MailSecurity.NoneOnLoopback);
        await shop.SentVersionAsync();
        var runner = shop.Get<OutboxRunner>();
        foreach (var minutes in new[] { 1, 5, 15, 30, 60 })
        {
            Assert.True(await runner.RunOneAsync("one", None));
            var waiting = Assert.Single(await shop.Outbox.ListAsync(null));
            Assert.Equal((MailState.Waiting, "451 try later"), (waiting.State, waiting.LastReply));
            Assert.Equal(shop.Time.GetUtcNow().AddMinutes(minutes), waiting.NextAttemptAt);
            Assert.False(await runner.RunOneAsync("one", None));
            shop.Time.Advance(TimeSpan.FromMinutes(minutes));
        }

        Assert.True(await runner.RunOneAsync("one", None));

        var sent = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal((MailState.Sent, 6), (sent.State, sent.Attempts));
        Assert.Equal(6, server.Received.Count);
        Assert.Single(server.Received.Select(Convert.ToBase64String).Distinct());
    }

    [Fact]
    public async Task A_refused_recipient_is_a_visible_state_of_the_order()
    {
        await using var server = new Catcher(_ => SmtpResponse.Ok, recipient: false);
        await using var shop = await OpenAsync(server, MailSecurity.NoneOnLoopback);
        await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal(MailState.Bounced, card.State);
        Assert.StartsWith("550 ", card.LastReply, StringComparison.Ordinal);
        Assert.True(Assert.Single(await shop.Orders.ListAsync(OrderState.WaitingForThem)).MailTrouble);
        Assert.Equal(1, await shop.Outbox.TroubleAsync());
        Assert.True(await shop.Outbox.TryAgainAsync(card.Id, "anna"));
        Assert.Equal(MailState.Waiting, Assert.Single(await shop.Outbox.ListAsync(null)).State);
    }

    [Fact]
    public async Task A_server_without_TLS_gets_nothing_and_the_queue_pauses()
    {
        await using var server = new Catcher(_ => SmtpResponse.Ok);
        await using var shop = await OpenAsync(server, MailSecurity.StartTls);
        await shop.SentVersionAsync();
        await shop.SentVersionAsync();
        var runner = shop.Get<OutboxRunner>();

        Assert.True(await runner.RunOneAsync("one", None));

        Assert.All(
            await shop.Outbox.ListAsync(null),
            mail => Assert.Equal((MailState.Paused, 0), (mail.State, mail.Attempts))
        );
        Assert.False(await runner.RunOneAsync("one", None));
        Assert.Empty(server.Received);
        Assert.Equal(0, server.Connections(secure: true));
    }

    [Fact]
    public async Task A_certificate_nobody_vouches_for_pauses_the_queue()
    {
        await using var server = new Catcher(_ => SmtpResponse.Ok, certificate: SelfSigned());
        await using var shop = await OpenAsync(server, MailSecurity.StartTls);
        await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        Assert.Equal(MailState.Paused, Assert.Single(await shop.Outbox.ListAsync(null)).State);
        Assert.Empty(server.Received);
    }

    [Fact]
    public async Task Mail_without_TLS_leaves_for_this_machine_only()
    {
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "192.0.2.25",
                    Port = 25,
                    Security = MailSecurity.NoneOnLoopback,
                }
        );
        await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal(MailState.Paused, card.State);
        Assert.Equal(
            "192.0.2.25 is not this machine, so mail may not go there without TLS; set Security to StartTls or TlsOnConnect",
            card.LastReply
        );
    }

    [Fact]
    public async Task A_server_that_cannot_be_reached_costs_a_wait_and_a_paused_queue_resumes_at_the_next_start()
    {
        var port = FreePort();
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "127.0.0.1",
                    Port = port,
                    Security = MailSecurity.NoneOnLoopback,
                }
        );
        await shop.SentVersionAsync();
        await shop.Get<OutboxRunner>().RunOneAsync("one", None);
        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal((MailState.Waiting, TestShop.Start.AddMinutes(1)), (card.State, card.NextAttemptAt));
        Assert.StartsWith("no connection: ", card.LastReply, StringComparison.Ordinal);
        await shop.Office.WriteAsync(async db =>
        {
            db.OutboxMails.Single().State = MailState.Paused;
            await db.SaveChangesAsync();
        });

        await shop.Get<OutboxRunner>().ResumeAsync(None);

        Assert.Equal(MailState.Waiting, Assert.Single(await shop.Outbox.ListAsync(null)).State);
    }

    [Fact]
    public async Task A_line_cut_at_the_final_dot_leaves_the_mail_uncertain_and_it_is_tried_again()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var cut = CutAtTheDotAsync(listener);
        await using var shop = await TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "127.0.0.1",
                    Port = ((IPEndPoint)listener.LocalEndpoint).Port,
                    Security = MailSecurity.NoneOnLoopback,
                }
        );
        await shop.SentVersionAsync();

        await shop.Get<OutboxRunner>().RunOneAsync("one", None);

        await cut;
        var card = Assert.Single(await shop.Outbox.ListAsync(null));
        Assert.Equal((MailState.Uncertain, TestShop.Start.AddMinutes(1)), (card.State, card.NextAttemptAt));
    }

    [Fact]
    public async Task After_five_days_of_waiting_a_mail_is_given_up()
    {
        await using var server = new Catcher(_ => new SmtpResponse((SmtpReplyCode)451, "try later"));
        await using var shop = await OpenAsync(server, MailSecurity.NoneOnLoopback);
        await shop.SentVersionAsync();
        var runner = shop.Get<OutboxRunner>();
        var tries = 0;

        for (var hour = 0; hour < 24 * 6; hour++)
        {
            tries += await runner.RunOneAsync("one", None) ? 1 : 0;
            shop.Time.Advance(TimeSpan.FromHours(2));
        }

        Assert.Equal(MailState.Bounced, Assert.Single(await shop.Outbox.ListAsync(null)).State);
        Assert.Equal(61, tries); // every two hours from 0 h to 120 h
    }

    private static Task<TestShop> OpenAsync(Catcher server, MailSecurity security) =>
        TestShop.OpenAsync(
            Engine.Sqlite,
            settings =>
                settings.Mail = new MailSettings
                {
                    Host = "localhost",
                    Port = server.Port,
                    Security = security,
                }
        );

    private static async Task CutAtTheDotAsync(TcpListener listener)
    {
        using var client = await listener.AcceptTcpClientAsync();
        await using var stream = client.GetStream();
        using var reader = new StreamReader(stream);
        await using var writer = new StreamWriter(stream) { NewLine = "\r\n", AutoFlush = true };
        await writer.WriteLineAsync("220 cutter");
        while (await reader.ReadLineAsync() is { } line)
        {
            if (line == ".")
            {
                return;
            }
            if (line.StartsWith("DATA", StringComparison.Ordinal))
            {
                await writer.WriteLineAsync("354 go on");
            }
            else if (line.Length > 4 && line[..4] is ("EHLO" or "MAIL" or "RCPT"))
            {
                await writer.WriteLineAsync("250 ok");
            }
        }
    }

    private static X509Certificate2 SelfSigned()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        using var made = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pkcs12), null);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private sealed class Catcher : IAsyncDisposable
    {
        private readonly CancellationTokenSource _stop = new();
        private readonly Task _running;
        private int _secure;

        public Catcher(Func<int, SmtpResponse> answer, bool recipient = true, X509Certificate2? certificate = null)
        {
            Port = FreePort();
            var options = new SmtpServerOptionsBuilder()
                .ServerName("catcher.example")
                .Endpoint(endpoint =>
                {
                    endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port));
                    if (certificate is not null)
                    {
                        endpoint.Certificate(certificate);
                    }
                })
                .Build();
            var services = new ServiceProvider();
            services.Add(new Store(this, answer));
            services.Add(new Filter(recipient));
            var server = new SmtpServer.SmtpServer(options, services);
            server.SessionCompleted += (_, session) => _secure += session.Context.Pipe?.IsSecure == true ? 1 : 0;
            _running = server.StartAsync(_stop.Token);
        }

        public int Port { get; }
        public ConcurrentQueue<byte[]> Received { get; } = new();

        public int Connections(bool secure) => secure ? _secure : -1;

        public async ValueTask DisposeAsync()
        {
            await _stop.CancelAsync();
            await _running;
            _stop.Dispose();
        }

        private sealed class Store(Catcher catcher, Func<int, SmtpResponse> answer) : MessageStore
        {
            public override Task<SmtpResponse> SaveAsync(
                ISessionContext context,
                IMessageTransaction transaction,
                System.Buffers.ReadOnlySequence<byte> buffer,
                CancellationToken cancellationToken
            )
            {
                catcher.Received.Enqueue(System.Buffers.BuffersExtensions.ToArray(buffer));
                return Task.FromResult(answer(catcher.Received.Count));
            }
        }

        private sealed class Filter(bool accepts) : MailboxFilter
        {
            public override Task<bool> CanDeliverToAsync(
                ISessionContext context,
                IMailbox to,
                IMailbox from,
                CancellationToken cancellationToken
            ) => Task.FromResult(accepts);
        }
    }
}
