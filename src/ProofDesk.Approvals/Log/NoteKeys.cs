using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Org.BouncyCastle.Math.EC.Rfc8032;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Log;

/// <summary>
/// A public key of c2sp.org/signed-note, type 0x01 (Ed25519, RFC 8032), written NAME+KEYID+BASE64 ("vkey").
/// The key id is the start of SHA-256(name || 0x0A || 0x01 || key).
/// </summary>
public sealed record VerifierKey
{
    internal const byte Ed25519Type = 1;

    private readonly byte[] publicKey;

    public VerifierKey(string name, ReadOnlySpan<byte> publicKey)
    {
        if (!IsName(name))
        {
            throw new RecordFormatException(
                $"'{name}' is no key name: it is empty or has a space, a plus or a control character"
            );
        }

        if (publicKey.Length != Ed25519.PublicKeySize)
        {
            throw new RecordFormatException($"an Ed25519 key has 32 bytes, got {publicKey.Length}");
        }

        Name = name;
        this.publicKey = publicKey.ToArray();
        byte[] hashed = [.. Encoding.UTF8.GetBytes(name), (byte)'\n', Ed25519Type, .. this.publicKey];
        Id = BinaryPrimitives.ReadUInt32BigEndian(SHA256.HashData(hashed));
    }

    public string Name { get; }

    public uint Id { get; }

    /// <summary>Reads a vkey; the key id must be the one of this name and key.</summary>
    public static VerifierKey Parse(string vkey)
    {
        var parts = vkey.Split('+', 3);
        if (parts.Length != 3 || !NoteBase64.TryDecode(parts[2], out var typed) || typed.Length != 33)
        {
            throw new RecordFormatException(
                $"'{vkey}' is not a key: expected NAME+KEYID+BASE64 of one type byte and 32 key bytes"
            );
        }

        if (typed[0] != Ed25519Type)
        {
            throw new RecordFormatException($"'{vkey}' has signature type {typed[0]}; only 1 (Ed25519) is known here");
        }

        var key = new VerifierKey(parts[0], typed.AsSpan(1));
        return string.Equals(key.IdText, parts[1], StringComparison.Ordinal)
            ? key
            : throw new RecordFormatException($"'{vkey}' says key id {parts[1]}, its name and key give {key.IdText}");
    }

    public static bool TryParse(string vkey, [NotNullWhen(true)] out VerifierKey? key)
    {
        try
        {
            key = Parse(vkey);
            return true;
        }
        catch (RecordFormatException)
        {
            key = null;
            return false;
        }
    }

    /// <summary>
    /// RFC 8032 section 5.1.7, and key and nonce point must lie in the group of prime order: there, all readings of the equation
    /// agree, so no key can be made whose signature one verifier takes and another refuses.
    /// </summary>
    public bool Verifies(ReadOnlySpan<byte> text, ReadOnlySpan<byte> signature) =>
        signature.Length == Ed25519.SignatureSize
        && Ed25519.ValidatePublicKeyFull(publicKey, 0)
        && Ed25519.ValidatePublicKeyFull(signature[..Ed25519.PublicKeySize].ToArray(), 0)
        && Ed25519.Verify(signature.ToArray(), 0, publicKey, 0, text.ToArray(), 0, text.Length);

    public bool Equals(VerifierKey? other) =>
        other is not null
        && string.Equals(Name, other.Name, StringComparison.Ordinal)
        && publicKey.AsSpan().SequenceEqual(other.publicKey);

    public override int GetHashCode() => HashCode.Combine(Name.GetHashCode(StringComparison.Ordinal), Id);

    public override string ToString() => $"{Name}+{IdText}+{Convert.ToBase64String([Ed25519Type, .. publicKey])}";

    internal static bool IsName(string name) =>
        name.Length > 0 && !name.Any(c => char.IsWhiteSpace(c) || char.IsControl(c) || c == '+');

    private string IdText => Id.ToString("x8", CultureInfo.InvariantCulture);
}

/// <summary>The private half of a <see cref="VerifierKey"/>: 32 seed bytes that the shell keeps in a file of its own.</summary>
public sealed class SigningKey
{
    private readonly byte[] seed;

    public SigningKey(string name, ReadOnlySpan<byte> seed)
    {
        if (seed.Length != Ed25519.SecretKeySize)
        {
            throw new RecordFormatException($"an Ed25519 seed has 32 bytes, got {seed.Length}");
        }

        this.seed = seed.ToArray();
        var publicKey = new byte[Ed25519.PublicKeySize];
        Ed25519.GeneratePublicKey(this.seed, 0, publicKey, 0);
        Verifier = new VerifierKey(name, publicKey);
    }

    public VerifierKey Verifier { get; }

    /// <summary>Ed25519 is deterministic: the same text gives the same signature.</summary>
    public byte[] Sign(ReadOnlySpan<byte> text)
    {
        var signature = new byte[Ed25519.SignatureSize];
        Ed25519.Sign(seed, 0, text.ToArray(), 0, text.Length, signature, 0);
        return signature;
    }
}
