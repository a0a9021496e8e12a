using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.DataProtection;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Security.Limits;

/// <summary>
/// A sealed cookie that says which accounts were signed in to from this browser. It opens nothing; it only has tries counted apart
/// (OWASP: slow down online guessing with device cookies).
/// </summary>
public sealed class KnownBrowsers(IDataProtectionProvider protection, ServerSettings settings)
{
    private const int Most = 8;
    private static readonly TimeSpan Kept = TimeSpan.FromDays(180);
    private readonly ITimeLimitedDataProtector seal = protection
        .CreateProtector("known-browser/1")
        .ToTimeLimitedDataProtector();

    private string Cookie => settings.CookieName("known");

    public static string Plain(string email) => email.Trim().ToLowerInvariant();

    /// <summary>The browser's number for this account; null when nobody signed in to it here.</summary>
    public string? Find(HttpContext http, string email) =>
        Read(http).FirstOrDefault(e => e.Account == Digest(email)).Number;

    public void Remember(HttpContext http, string email)
    {
        var account = Digest(email);
        var number = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        var all = Read(http).Where(e => e.Account != account).Prepend((Account: account, Number: number)).Take(Most);
        http.Response.Cookies.Append(
            Cookie,
            seal.Protect(string.Join(',', all.Select(e => e.Account + "." + e.Number)), Kept),
            new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Lax,
                Secure = settings.UsesHttps,
                Path = "/",
                MaxAge = Kept,
                IsEssential = true,
            }
        );
    }

    private List<(string Account, string Number)> Read(HttpContext http)
    {
        if (!http.Request.Cookies.TryGetValue(Cookie, out var text))
            return [];
        try
        {
            return [.. seal.Unprotect(text).Split(',').Select(e => e.Split('.')).Select(e => (e[0], e[1]))];
        }
        catch (CryptographicException)
        {
            return [];
        }
    }

    private static string Digest(string email) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Plain(email))))[..32];
}
