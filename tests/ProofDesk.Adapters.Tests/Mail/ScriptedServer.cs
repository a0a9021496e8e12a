using System.Net;
using System.Net.Sockets;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>Where in a conversation something goes wrong.</summary>
public enum At
{
    Greeting,
    Hello,
    Mail,
    Recipient,
    Data,
    Dot,
}

/// <summary>
/// A mail server that follows RFC 5321 except at one place, where it gives the reply it was told, says nothing, or hangs up. It keeps
/// what it took, so that a lost or doubled letter shows.
/// </summary>
internal sealed class ScriptedServer : IAsyncDisposable
{
    public const string HangUp = "hang up";
    public const string Silence = "silence";

    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _running;
    private readonly At _at;
    private readonly string _fault;

    public ScriptedServer(At at, string fault)
    {
        (_at, _fault) = (at, fault);
        _listener.Start();
        _running = AcceptAsync();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    /// <summary>Letters it said yes to, or would have.</summary>
    public int Taken { get; private set; }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _listener.Stop();
        try
        {
            await _running;
        }
        catch (Exception ended)
            when (ended is OperationCanceledException or SocketException or IOException or InvalidOperationException)
        { }
        _stop.Dispose();
    }

    private async Task AcceptAsync()
    {
        while (true)
        {
            using var client = await _listener.AcceptTcpClientAsync(_stop.Token);
            try
            {
                await TalkAsync(client.GetStream());
            }
            catch (IOException) { }
        }
    }

    private async Task TalkAsync(NetworkStream stream)
    {
        using var reader = new StreamReader(stream);
        await using var writer = new StreamWriter(stream) { NewLine = "\r\n", AutoFlush = true };
        if (!await AnswerAsync(writer, At.Greeting, "220 scripted.example"))
        {
            return;
        }
        while (await reader.ReadLineAsync(_stop.Token) is { } line)
        {
            var (at, usual) = line.ToUpperInvariant() switch
            {
                var hello
                    when hello.StartsWith("EHLO", StringComparison.Ordinal)
                        || hello.StartsWith("HELO", StringComparison.Ordinal) => (At.Hello, "250 scripted.example"),
                var mail when mail.StartsWith("MAIL", StringComparison.Ordinal) => (At.Mail, "250 ok"),
                var recipient when recipient.StartsWith("RCPT", StringComparison.Ordinal) => (At.Recipient, "250 ok"),
                "DATA" => (At.Data, "354 go on"),
                _ => ((At?)null, "250 ok"),
            };
            if (line == "QUIT")
            {
                await writer.WriteLineAsync("221 bye");
                return;
            }
            if (at is null)
            {
                await writer.WriteLineAsync(usual);
                continue;
            }
            if (!await AnswerAsync(writer, at.Value, usual))
            {
                return;
            }
            if (at == At.Data && _at != At.Data)
            {
                while (await reader.ReadLineAsync(_stop.Token) is { } text && text != ".") { }
                Taken += _at != At.Dot || _fault is HangUp or Silence ? 1 : 0;
                if (!await AnswerAsync(writer, At.Dot, "250 taken"))
                {
                    return;
                }
            }
        }
    }

    private async Task<bool> AnswerAsync(StreamWriter writer, At at, string usual)
    {
        if (at != _at)
        {
            await writer.WriteLineAsync(usual);
            return true;
        }
        switch (_fault)
        {
            case HangUp:
                return false;
            case Silence:
                await Task.Delay(Timeout.Infinite, _stop.Token);
                return false;
            default:
                await writer.WriteLineAsync(_fault);
                return true;
        }
    }
}
