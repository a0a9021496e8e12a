using System.Security.Cryptography;

namespace ProofDesk.Approvals.Manifests;

/// <summary>A SHA-256 digest, written "sha256:" and 64 lower-case hexadecimal digits.</summary>
public readonly record struct Sha256Digest
{
    private const string Prefix = "sha256:";

    private readonly string? hex;

    private Sha256Digest(string hex) => this.hex = hex;

    /// <summary>64 lower-case hexadecimal digits.</summary>
    public string Hex => hex ?? new string('0', 64);

    /// <summary>The first eight digits, for people to compare by eye.</summary>
    public string ShortCode => Hex[..8];

    /// <summary>Digest of these bytes.</summary>
    public static Sha256Digest Of(ReadOnlySpan<byte> data) => FromHash(SHA256.HashData(data));

    /// <summary>Takes 32 bytes that already are a digest.</summary>
    public static Sha256Digest FromHash(ReadOnlySpan<byte> hash) =>
        hash.Length == 32
            ? new(Convert.ToHexStringLower(hash))
            : throw new ArgumentException($"a SHA-256 digest has 32 bytes, got {hash.Length}", nameof(hash));

    /// <summary>Reads 64 lower-case hexadecimal digits.</summary>
    public static bool TryParseHex(string text, out Sha256Digest digest)
    {
        var good = text.Length == 64 && text.All(char.IsAsciiHexDigitLower);
        digest = good ? new(text) : default;
        return good;
    }

    /// <summary>Reads "sha256:..." exactly as <see cref="ToString"/> writes it.</summary>
    public static bool TryParse(string text, out Sha256Digest digest)
    {
        digest = default;
        return text.StartsWith(Prefix, StringComparison.Ordinal) && TryParseHex(text[Prefix.Length..], out digest);
    }

    public byte[] ToArray() => Convert.FromHexString(Hex);

    public bool Equals(Sha256Digest other) => string.Equals(Hex, other.Hex, StringComparison.Ordinal);

    public override int GetHashCode() => string.GetHashCode(Hex, StringComparison.Ordinal);

    public override string ToString() => Prefix + Hex;
}
