using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>An authority made for one test and a certificate it signed, as PEM files.</summary>
internal sealed class TestAuthority
{
    public TestAuthority(string folder, string serverName)
    {
        AuthorityFile = Path.Combine(folder, "authority.pem");
        CertificateFile = Path.Combine(folder, "server.pem");
        KeyFile = Path.Combine(folder, "server.key");
        var from = DateTimeOffset.UtcNow.AddDays(-1);
        using var rootKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var rootRequest = new CertificateRequest("CN=Lindhag test authority", rootKey, HashAlgorithmName.SHA256);
        rootRequest.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        using var root = rootRequest.CreateSelfSigned(from, from.AddDays(3));
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN={serverName}", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(serverName);
        names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        using var certificate = request.Create(root, from, from.AddDays(2), [1, 2, 3, 4]);
        File.WriteAllText(AuthorityFile, root.ExportCertificatePem());
        File.WriteAllText(CertificateFile, certificate.ExportCertificatePem());
        File.WriteAllText(KeyFile, key.ExportPkcs8PrivateKeyPem());
    }

    public string AuthorityFile { get; }
    public string CertificateFile { get; }
    public string KeyFile { get; }
}
