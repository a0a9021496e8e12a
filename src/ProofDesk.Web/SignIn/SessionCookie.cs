using Microsoft.AspNetCore.Authentication.Cookies;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// This address makes a session and sees none: whoever signs in gets a new key, whatever key the browser came with (ASVS 5.0 7.2.4).
/// </summary>
[AttributeUsage(AttributeTargets.Class | AttributeTargets.Method)]
public sealed class SignsInAttribute : Attribute;

/// <summary>Keeps the cookie of a session out of sight where a new one is made.</summary>
internal sealed class SessionCookie : ICookieManager
{
    private static readonly object Hidden = new();
    private readonly ChunkingCookieManager inner = new();

    /// <summary>From here on this request has no session.</summary>
    public static void Hide(HttpContext http) => http.Items[Hidden] = true;

    public string? GetRequestCookie(HttpContext context, string key) =>
        context.Items.ContainsKey(Hidden) || context.GetEndpoint()?.Metadata.GetMetadata<SignsInAttribute>() is not null
            ? null
            : inner.GetRequestCookie(context, key);

    public void AppendResponseCookie(HttpContext context, string key, string? value, CookieOptions options) =>
        inner.AppendResponseCookie(context, key, value, options);

    public void DeleteCookie(HttpContext context, string key, CookieOptions options) =>
        inner.DeleteCookie(context, key, options);
}
