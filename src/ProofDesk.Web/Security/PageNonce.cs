using System.Security.Cryptography;

namespace ProofDesk.Web.Security;

/// <summary>The nonce of this response: 128 random bits, the only thing that lets a script or style element run.</summary>
public sealed class PageNonce
{
    public string Value { get; } = Convert.ToBase64String(RandomNumberGenerator.GetBytes(16));

    public override string ToString() => Value;
}
