using System.Globalization;
using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;

namespace ProofDesk.Web.Reviews;

/// <summary>When a form was given out, sealed for its link. A program that never asked for the page has none.</summary>
public sealed class FormStamp(IDataProtectionProvider protection, TimeProvider time)
{
    private readonly IDataProtector seal = protection.CreateProtector("review-form/1");

    public string New(Guid invitation) =>
        seal.Protect(
            string.Create(CultureInfo.InvariantCulture, $"{invitation:N} {time.GetUtcNow().ToUnixTimeMilliseconds()}")
        );

    /// <summary>How long ago the form was given out; null when it was not.</summary>
    public TimeSpan? Age(Guid invitation, string? stamp)
    {
        try
        {
            var parts = seal.Unprotect(stamp ?? "").Split(' ');
            return parts is [var owner, var at] && owner == invitation.ToString("N")
                ? time.GetUtcNow()
                    - DateTimeOffset.FromUnixTimeMilliseconds(long.Parse(at, CultureInfo.InvariantCulture))
                : null;
        }
        catch (Exception e) when (e is CryptographicException or FormatException)
        {
            return null;
        }
    }
}
