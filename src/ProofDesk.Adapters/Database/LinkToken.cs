using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// 32 random bytes as 43 base64url characters and 4 more that let us tell a cut-off link from a wrong one without asking the
/// database. A UUID would not do: RFC 9562 section 8 forbids it as a capability.
/// </summary>
public static class LinkToken
{
    public const int Length = RandomCharacters + ChecksumCharacters;

    private const int RandomCharacters = 43;
    private const int ChecksumCharacters = 4;

    public static string New()
    {
        var random = Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));
        return random + ChecksumOf(random);
    }

    public static bool IsWhole(string token) =>
        token.Length == Length
        && string.Equals(token[RandomCharacters..], ChecksumOf(token[..RandomCharacters]), StringComparison.Ordinal);

    public static byte[] DigestOf(string token) => SHA256.HashData(Encoding.UTF8.GetBytes(token));

    // The first 24 bits of a digest with its own prefix, so that the checksum says nothing about the stored digest.
    private static string ChecksumOf(string random) =>
        Base64Url.EncodeToString(SHA256.HashData(Encoding.UTF8.GetBytes("proofdesk-link/1\n" + random)).AsSpan(0, 3));
}
