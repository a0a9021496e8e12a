using System.Net;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace ProofDesk.Adapters.Mail;

/// <summary>How one try ended. The reply is shown on the order's page.</summary>
internal abstract record Delivery(string Reply)
{
    public sealed record Accepted(string Reply) : Delivery(Reply);

    /// <summary>4xx, no connection: later.</summary>
    public sealed record Later(string Reply) : Delivery(Reply);

    /// <summary>This recipient is refused for good.</summary>
    public sealed record Refused(string Reply) : Delivery(Reply);

    /// <summary>The server never answered the final dot: it may have the message.</summary>
    public sealed record Uncertain(string Reply) : Delivery(Reply);

    /// <summary>Sign-in, certificate, missing TLS, sender refused: our settings. No message is used up.</summary>
    public sealed record Misconfigured(string Reply) : Delivery(Reply);
}

/// <summary>One connection a message; never less security than the settings say.</summary>
/// <param name="patience">how long one answer may take; null = as the standard asks</param>
internal sealed class MailServer(MailSettings settings, TimeSpan? patience = null)
{
    // RFC 5321 section 4.5.3.2.6: ten minutes for the answer to the final dot.
    private readonly int _timeoutMs = (int)(patience ?? TimeSpan.FromMinutes(10)).TotalMilliseconds;

    public async Task<Delivery> SendAsync(Guid id, byte[] mime, CancellationToken cancel)
    {
        if (settings.Security == MailSecurity.NoneOnLoopback && !await IsLoopbackAsync(settings.Host, cancel))
        {
            return new Delivery.Misconfigured(
                $"{settings.Host} is not this machine, so mail may not go there without TLS; set Security to StartTls or TlsOnConnect"
            );
        }
        using var message = await MimeMessage.LoadAsync(new MemoryStream(mime), cancel);
        using var client = new EnvelopeClient(id) { Timeout = _timeoutMs };
        if (settings.AuthorityFile.Length > 0)
        {
            client.ServerCertificateValidationCallback = new OwnAuthority(settings.AuthorityFile).Vouches;
        }
        var dotReached = false;
        client.MessageSent += (_, _) => dotReached = true;
        try
        {
            await client.ConnectAsync(settings.Host, settings.Port, Options(), cancel);
            if (settings.UserName.Length > 0)
            {
                await client.AuthenticateAsync(settings.UserName, settings.Password, cancel);
            }
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            return BeforeTheMessage(failure);
        }
        try
        {
            var reply = await client.SendAsync(message, cancel);
            await QuitAsync(client);
            return new Delivery.Accepted(reply);
        }
        catch (SmtpCommandException refused)
        {
            return OfCommand(refused);
        }
        catch (Exception broken)
            when (broken is IOException or SmtpProtocolException or TimeoutException or ServiceNotConnectedException)
        {
            return client.DataBegan && !dotReached
                ? new Delivery.Uncertain($"connection lost before the server answered: {broken.Message}")
                : new Delivery.Later($"connection lost: {broken.Message}");
        }
    }

    private SecureSocketOptions Options() =>
        settings.Security switch
        {
            MailSecurity.StartTls => SecureSocketOptions.StartTls,
            MailSecurity.TlsOnConnect => SecureSocketOptions.SslOnConnect,
            _ => SecureSocketOptions.None,
        };

    private static Delivery BeforeTheMessage(Exception failure) =>
        failure switch
        {
            SmtpCommandException { StatusCode: var code } busy when (int)code is >= 400 and < 500 => new Delivery.Later(
                Reply(busy)
            ),
            SmtpCommandException refused => new Delivery.Misconfigured(Reply(refused)),
            AuthenticationException or SslHandshakeException or NotSupportedException => new Delivery.Misconfigured(
                failure.Message
            ),
            _ => new Delivery.Later($"no connection: {failure.Message}"),
        };

    private static Delivery OfCommand(SmtpCommandException refused) =>
        (refused.ErrorCode, (int)refused.StatusCode) switch
        {
            (_, >= 400 and < 500) => new Delivery.Later(Reply(refused)),
            (SmtpErrorCode.SenderNotAccepted, _) => new Delivery.Misconfigured(Reply(refused)),
            _ => new Delivery.Refused(Reply(refused)),
        };

    private static string Reply(SmtpCommandException answer) => $"{(int)answer.StatusCode} {answer.Message}";

    // The message is in the server's hands; a broken farewell changes nothing.
    private static async Task QuitAsync(EnvelopeClient client)
    {
        try
        {
            await client.DisconnectAsync(quit: true, CancellationToken.None);
        }
        catch (Exception farewell) when (farewell is IOException or SmtpProtocolException or SmtpCommandException) { }
    }

    private static async Task<bool> IsLoopbackAsync(string host, CancellationToken cancel)
    {
        if (IPAddress.TryParse(host, out var address))
        {
            return IPAddress.IsLoopback(address);
        }
        var all = await Dns.GetHostAddressesAsync(host, cancel);
        return all.Length > 0 && all.All(IPAddress.IsLoopback);
    }

    /// <summary>Envelope id and failure notes (RFC 3461) carry the row's id, so a bounce names its mail.</summary>
    private sealed class EnvelopeClient(Guid id) : SmtpClient
    {
        public bool DataBegan { get; private set; }

        protected override string GetEnvelopeId(MimeMessage message) => id.ToString();

        protected override DeliveryStatusNotification? GetDeliveryStatusNotifications(
            MimeMessage message,
            MailboxAddress mailbox
        ) => DeliveryStatusNotification.Failure | DeliveryStatusNotification.Delay;

        protected override void OnRecipientAccepted(
            MimeMessage message,
            MailboxAddress mailbox,
            SmtpResponse response
        ) => DataBegan = true;
    }
}
