using Microsoft.AspNetCore.DataProtection;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// What a browser holds after a link was opened: identifiers of invitations, sealed. It gives no right by itself; every
/// request reads the invitation's row again, so a link called back closes at once.
/// </summary>
public sealed class ReviewTicket(IDataProtectionProvider protection, ServerSettings settings)
{
    private const int Most = 8;
    private readonly IDataProtector seal = protection.CreateProtector("review-ticket/1");

    private string Cookie => settings.CookieName("review");

    public IReadOnlyList<Guid> Read(HttpContext context)
    {
        if (!context.Request.Cookies.TryGetValue(Cookie, out var sealedText))
            return [];
        try
        {
            return [.. seal.Unprotect(sealedText).Split(',').Select(Guid.Parse)];
        }
        catch (Exception e) when (e is System.Security.Cryptography.CryptographicException or FormatException)
        {
            return [];
        }
    }

    public bool Holds(HttpContext context, Guid invitation) => Read(context).Contains(invitation);

    public void Add(HttpContext context, Guid invitation)
    {
        var held = Read(context).Where(i => i != invitation).Prepend(invitation).Take(Most);
        context.Response.Cookies.Append(
            Cookie,
            seal.Protect(string.Join(',', held)),
            new CookieOptions
            {
                HttpOnly = true,
                // Strict is not sent on the redirect after a click in a mail program.
                SameSite = SameSiteMode.Lax,
                Secure = settings.UsesHttps,
                Path = "/",
                IsEssential = true,
            }
        );
    }
}
