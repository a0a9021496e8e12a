using System.Buffers.Text;
using Microsoft.AspNetCore.Identity;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>A passkey as its person sees it.</summary>
public sealed record PasskeyCard(string Id, string Name, DateTimeOffset Since, DateTimeOffset? LastUsed)
{
    /// <summary>Its name for machines and addresses.</summary>
    public static string NameOf(byte[] credentialId) => Base64Url.EncodeToString(credentialId);

    public static PasskeyCard Of(UserPasskeyInfo passkey, IReadOnlyDictionary<string, DateTimeOffset> used)
    {
        var id = NameOf(passkey.CredentialId);
        return new(
            id,
            string.IsNullOrWhiteSpace(passkey.Name) ? "without a name" : passkey.Name,
            passkey.CreatedAt,
            used.TryGetValue(id, out var at) ? at : null
        );
    }
}

/// <summary>Where passkeys can work: a name, under https or on this machine (W3C Web Authentication, secure contexts).</summary>
public static class PasskeyReach
{
    public static string Domain(ServerSettings settings) => new Uri(settings.PublicBaseUrl).Host;

    public static string Origin(ServerSettings settings) =>
        new Uri(settings.PublicBaseUrl).GetLeftPart(UriPartial.Authority);

    /// <summary>Why there can be none, in words for whoever runs the server; null when there can.</summary>
    public static string? WhyNot(ServerSettings settings)
    {
        var address = new Uri(settings.PublicBaseUrl);
        if (address.HostNameType is UriHostNameType.IPv4 or UriHostNameType.IPv6)
            return $"Passkeys belong to a name, and the public address of this desk is the number {address.Host}. Give the server a name and write it in Server:PublicBaseUrl.";
        return address.Scheme == Uri.UriSchemeHttps || address.Host == "localhost"
            ? null
            : $"Browsers offer passkeys over https only, and the public address of this desk is {Origin(settings)}. Put it behind https and write that address in Server:PublicBaseUrl.";
    }
}
