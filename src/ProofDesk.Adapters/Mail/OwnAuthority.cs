using System.Net.Security;
using System.Security.Cryptography.X509Certificates;

namespace ProofDesk.Adapters.Mail;

/// <summary>
/// Checks a mail server's certificate against the shop's own authority and nothing else. Name, dates and signature count as ever;
/// revocation is not asked, since such authorities publish no lists.
/// </summary>
internal sealed class OwnAuthority(string pemFile)
{
    public bool Vouches(object sender, X509Certificate? certificate, X509Chain? chain, SslPolicyErrors errors)
    {
        if (certificate is null || errors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch))
        {
            return false;
        }
        using var own = new X509Chain();
        own.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        own.ChainPolicy.CustomTrustStore.ImportFromPemFile(pemFile);
        own.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        using var server = X509CertificateLoader.LoadCertificate(certificate.GetRawCertData());
        return own.Build(server);
    }
}
