using System.Globalization;
using System.Security.Cryptography;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// PBKDF2 with SHA-256 and a salt, for secrets of few bits. Whoever reads the table has 10^8 codes to try at this price each, and
/// ten minutes; 300,000 rounds are about 0.1 s of one core (our own measure), so about four months.
/// </summary>
internal static class SlowHash
{
    private const int Rounds = 300_000;
    private const int Bytes = 32;

    public static string NewSalt() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));

    /// <summary>With a salt that several secrets have in common.</summary>
    public static string Of(string secret, string salt) =>
        Convert.ToHexStringLower(Derive(secret, Convert.FromHexString(salt), Rounds));

    public static string Of(string secret)
    {
        var salt = RandomNumberGenerator.GetBytes(16);
        return $"pbkdf2-sha256${Rounds}${Convert.ToHexStringLower(salt)}${Convert.ToHexStringLower(Derive(secret, salt, Rounds))}";
    }

    public static bool Fits(string secret, string hash)
    {
        var parts = hash.Split('$');
        return CryptographicOperations.FixedTimeEquals(
            Derive(secret, Convert.FromHexString(parts[2]), int.Parse(parts[1], CultureInfo.InvariantCulture)),
            Convert.FromHexString(parts[3])
        );
    }

    private static byte[] Derive(string secret, byte[] salt, int rounds) =>
        Rfc2898DeriveBytes.Pbkdf2(secret, salt, rounds, HashAlgorithmName.SHA256, Bytes);
}
