using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>
/// exim4 on loopback with a configuration and spool of its own, told to answer one command with one code. It must be started by root,
/// and a test run never installs it: Debian would take another mail server away for it.
/// </summary>
internal sealed class EximPeer : IDisposable
{
    private const string Exim = "/usr/sbin/exim4";
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-exim-").FullName;
    private readonly Process _process;

    private EximPeer(string at, int code)
    {
        using (var listener = new TcpListener(IPAddress.Loopback, 0))
        {
            listener.Start();
            Port = ((IPEndPoint)listener.LocalEndpoint).Port;
        }
        string Acl(string where) =>
            $"acl_{where}:\n"
            + (at == where ? $"  {(code < 500 ? "defer" : "deny")} message = {code} told so\n" : "  accept\n");
        var configuration = Path.Combine(_folder, "exim.conf");
        File.WriteAllText(
            configuration,
            $"""
            primary_hostname = exim.example
            spool_directory = {_folder}/spool
            log_file_path = {_folder}/spool/%slog
            keep_environment =
            queue_only
            tls_advertise_hosts =
            acl_smtp_mail = acl_mail
            acl_smtp_rcpt = acl_rcpt
            acl_smtp_data = acl_data
            begin acl
            {Acl("mail")}{Acl("rcpt")}{Acl("data")}
            """
        );
        Directory.CreateDirectory(Path.Combine(_folder, "spool"));
        Run("chown", "-R", "Debian-exim:Debian-exim", Path.Combine(_folder, "spool"));
        Run("chmod", "0755", _folder);
        _process = Process.Start(
            new ProcessStartInfo(Exim, ["-C", configuration, "-bdf", "-oX", $"127.0.0.1.{Port}"])
            {
                UseShellExecute = false,
                RedirectStandardError = true,
            }
        )!;
        WaitForAnswer();
    }

    public int Port { get; }

    /// <summary>Letters in its queue.</summary>
    public int Taken => Directory.GetFiles(Path.Combine(_folder, "spool"), "*-H", SearchOption.AllDirectories).Length;

    public static EximPeer StartOrSkip(string at, int code)
    {
        Skip.IfNot(File.Exists(Exim), "exim4 is not installed; apt-get install exim4-daemon-light to run this test");
        Skip.IfNot(Environment.IsPrivilegedProcess, "exim4 with a configuration of our own must be started by root");
        return new EximPeer(at, code);
    }

    public void Dispose()
    {
        _process.Kill(entireProcessTree: true);
        _process.WaitForExit();
        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private void WaitForAnswer()
    {
        for (var tries = 0; ; tries++)
        {
            try
            {
                using var client = new TcpClient("127.0.0.1", Port);
                return;
            }
            catch (SocketException) when (tries < 200 && !_process.HasExited)
            {
                Thread.Sleep(50);
            }
        }
    }

    private static void Run(string program, params string[] arguments)
    {
        using var process = Process.Start(program, arguments);
        process.WaitForExit();
    }
}
