using System.Net;
using System.Net.Sockets;

namespace ProofDesk.Adapters.Tests.Mail.Peers;

/// <summary>What a peer outside this process reads its orders from: two files in a folder of its own.</summary>
internal sealed class PeerFiles : IDisposable
{
    public PeerFiles(string name)
    {
        Folder = Directory.CreateTempSubdirectory($"proofdesk-{name}-").FullName;
        // The peer may run as a user of its own.
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(Folder, (UnixFileMode)0b111_101_101);
        Answer("", "");
    }

    public string Folder { get; }

    public string Of(string name) => Path.Combine(Folder, name);

    public void Answer(string at, string reply)
    {
        File.WriteAllText(Of("at"), at);
        File.WriteAllText(Of("reply"), reply);
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    public static async Task WaitAsync(int port, Func<bool> isGone)
    {
        for (var tries = 0; ; tries++)
        {
            try
            {
                using var client = new TcpClient();
                await client.ConnectAsync(IPAddress.Loopback, port);
                return;
            }
            catch (SocketException) when (tries < 400 && !isGone())
            {
                await Task.Delay(50);
            }
        }
    }
}
