using ProofDesk.Web.Start;

namespace ProofDesk.Web.Security;

/// <summary>
/// The headers every answer carries, set before anything else can answer (ASVS 5.0 3.4.1-3.4.8, 14.3.2). Pages are never
/// stored; pictures and style sheets set their own Cache-Control, which is left alone.
/// </summary>
internal sealed class ResponseHeaders(RequestDelegate next, ServerSettings settings)
{
    public Task InvokeAsync(HttpContext context, PageNonce nonce)
    {
        context.Response.OnStarting(() =>
        {
            Write(context, nonce);
            return Task.CompletedTask;
        });
        return next(context);
    }

    private static readonly object Camera = new();

    /// <summary>For this answer alone the page may ask whoever looks at it for the camera.</summary>
    public static void AllowCamera(HttpContext context) => context.Items[Camera] = true;

    private void Write(HttpContext context, PageNonce nonce)
    {
        var headers = context.Response.Headers;
        // Only the page that checks packets brings a policy of its own, stricter than this one.
        if (headers.ContentSecurityPolicy.Count == 0)
            headers.ContentSecurityPolicy =
                "default-src 'none'; "
                + $"script-src 'nonce-{nonce}'; style-src 'self' 'nonce-{nonce}'; "
                + "img-src 'self' blob:; connect-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'; "
                + "object-src 'none'; frame-ancestors 'none'; "
                + "require-trusted-types-for 'script'; trusted-types default";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        // The page that reads square codes has asked for the camera; nobody else gets it.
        headers["Permissions-Policy"] =
            $"camera={(context.Items.ContainsKey(Camera) ? "(self)" : "()")}, microphone=(), geolocation=(), payment=(), usb=(), browsing-topics=()";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        if (!headers.CacheControl.ToString().Contains("max-age", StringComparison.Ordinal))
            headers.CacheControl = "no-store";
        if (settings.UsesHttps)
            headers.StrictTransportSecurity = "max-age=63072000; includeSubDomains";
        headers.Remove("Server");
    }
}
