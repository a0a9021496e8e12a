using System.Net;
using System.Net.Sockets;
using System.Text;

namespace ProofDesk.Adapters.Tests.Mail.Peers;

/// <summary>A line to a peer that breaks once: when the peer has answered the final dot, before the answer arrives.</summary>
internal sealed class CutLine : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _running;
    private readonly int _to;
    private bool _broken;

    public CutLine(int to)
    {
        _to = to;
        _listener.Start();
        _running = AcceptAsync();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _listener.Stop();
        try
        {
            await _running;
        }
        catch (Exception ended) when (ended is OperationCanceledException or SocketException or IOException) { }
        _stop.Dispose();
    }

    private async Task AcceptAsync()
    {
        while (true)
        {
            using var ours = await _listener.AcceptTcpClientAsync(_stop.Token);
            using var theirs = new TcpClient();
            await theirs.ConnectAsync(IPAddress.Loopback, _to, _stop.Token);
            try
            {
                await TalkAsync(ours.GetStream(), theirs.GetStream());
            }
            catch (IOException) { }
        }
    }

    private async Task TalkAsync(NetworkStream ours, NetworkStream theirs)
    {
        var sent = new StringBuilder();
        var block = new byte[1 << 16];
        var answers = AnswersAsync();
        for (int got; (got = await ours.ReadAsync(block, _stop.Token)) > 0; )
        {
            sent.Append(Encoding.Latin1.GetString(block, 0, got));
            await theirs.WriteAsync(block.AsMemory(0, got), _stop.Token);
        }
        theirs.Socket.Shutdown(SocketShutdown.Send);
        await answers;

        async Task AnswersAsync()
        {
            var answer = new byte[1 << 16];
            for (int got; (got = await theirs.ReadAsync(answer, _stop.Token)) > 0; )
            {
                if (!_broken && sent.ToString().EndsWith("\r\n.\r\n", StringComparison.Ordinal))
                {
                    _broken = true;
                    ours.Socket.Close();
                    return;
                }
                await ours.WriteAsync(answer.AsMemory(0, got), _stop.Token);
            }
            ours.Socket.Shutdown(SocketShutdown.Send);
        }
    }
}
