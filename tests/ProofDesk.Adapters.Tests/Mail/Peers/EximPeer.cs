using System.Diagnostics;
using System.Text.RegularExpressions;

namespace ProofDesk.Adapters.Tests.Mail.Peers;

/// <summary>exim4 with a configuration and a spool of its own; it must be started by root.</summary>
internal sealed class EximPeer : IMailPeer
{
    private const string Exim = "/usr/sbin/exim4";

    private const string Rule = """
        acl_COMMAND:
          accept condition = ${if !eq{${readfile{FOLDER/at}}}{COMMAND}}
          defer condition = ${if match{${readfile{FOLDER/reply}}}{^4}}
            message = ${readfile{FOLDER/reply}}
          deny message = ${readfile{FOLDER/reply}}

        """;
    private readonly PeerFiles _files = new("exim");
    private readonly Process _process;

    private EximPeer(TestAuthority? authority)
    {
        Port = PeerFiles.FreePort();
        var spool = _files.Of("spool");
        Directory.CreateDirectory(spool);
        string Acl(string at) =>
            Rule.Replace("COMMAND", at, StringComparison.Ordinal)
                .Replace("FOLDER", _files.Folder, StringComparison.Ordinal);
        File.WriteAllText(
            _files.Of("exim.conf"),
            $"""
            primary_hostname = exim.example
            spool_directory = {spool}
            log_file_path = {spool}/%slog
            keep_environment =
            queue_only
            {(authority is null ? "tls_advertise_hosts =" : Tls(authority))}
            acl_smtp_mail = acl_mail
            acl_smtp_rcpt = acl_rcpt
            acl_smtp_data = acl_data
            begin acl
            {Acl("mail")}{Acl("rcpt")}{Acl("data")}
            """
        );
        Run("chown", "-R", "Debian-exim:Debian-exim", spool);
        _process = Process.Start(
            new ProcessStartInfo(Exim, ["-C", _files.Of("exim.conf"), "-bdf", "-oX", $"127.0.0.1.{Port}"])
            {
                UseShellExecute = false,
                RedirectStandardError = true,
            }
        )!;
    }

    public static bool IsThere => File.Exists(Exim) && Environment.IsPrivilegedProcess;

    public int Port { get; }

    public static async Task<IMailPeer> StartAsync(TestAuthority? authority)
    {
        var peer = new EximPeer(authority);
        await PeerFiles.WaitAsync(peer.Port, () => peer._process.HasExited);
        return peer;
    }

    public void Answer(string at, string reply) => _files.Answer(at, reply);

    // NAME-H holds the envelope and the header lines, each behind its length; NAME-D the name and the body.
    public IReadOnlyList<string> Taken() =>
        [
            .. Directory
                .GetFiles(_files.Of("spool"), "*-H", SearchOption.AllDirectories)
                .Select(head =>
                    Regex.Match(File.ReadAllText(head), "Message-I[Dd]: .*").Value
                    + "\n"
                    + File.ReadAllText(head[..^1] + "D").Split('\n', 2)[1]
                ),
        ];

    public async ValueTask DisposeAsync()
    {
        _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync();
        _process.Dispose();
        _files.Dispose();
    }

    private string Tls(TestAuthority authority)
    {
        File.Copy(authority.CertificateFile, _files.Of("tls.pem"));
        File.Copy(authority.KeyFile, _files.Of("tls.key"));
        Run("chown", "Debian-exim", _files.Of("tls.key"));
        return $"tls_advertise_hosts = *\ntls_certificate = {_files.Of("tls.pem")}\ntls_privatekey = {_files.Of("tls.key")}";
    }

    private static void Run(string program, params string[] arguments)
    {
        using var process = Process.Start(program, arguments);
        process.WaitForExit();
    }
}
