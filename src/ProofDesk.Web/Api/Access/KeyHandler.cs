using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Limits;

namespace ProofDesk.Web.Api.Access;

/// <summary>
/// Under <see cref="Root"/> a request shows a key and nothing else counts: no cookie is looked at, so no page of another site can ask
/// in somebody's name and no form token is needed. Everywhere else keys mean nothing.
/// </summary>
internal sealed class KeyHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logs,
    UrlEncoder encoder,
    ApiKeys keys,
    TryCounts tries
) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logs, encoder)
{
    public const string SchemeName = "key";
    public const string Root = "/api";

    /// <summary>Keys nobody made, of one network in a minute; then 429 until the minute is over.</summary>
    public const int MissesPerMinute = 20;

    private const string Bearer = "Bearer ";
    private const string KeyClaim = "proofdesk:key";
    private const string ScopeClaim = "proofdesk:key-scope";
    private DateTimeOffset? opens;

    /// <summary>The scheme that counts for a request; null for the usual one.</summary>
    public static string? Chosen(HttpContext http) => IsHere(http.Request.Path) ? SchemeName : null;

    public static bool IsHere(PathString path) => path.StartsWithSegments(Root, StringComparison.OrdinalIgnoreCase);

    public static KeyScope? ScopeOf(ClaimsPrincipal caller) =>
        Enum.TryParse<KeyScope>(caller.FindFirstValue(ScopeClaim), out var scope) ? scope : null;

    public static Guid? KeyOf(ClaimsPrincipal caller) =>
        Guid.TryParse(caller.FindFirstValue(KeyClaim), out var id) ? id : null;

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var header = Request.Headers.Authorization.ToString();
        if (header.Length == 0)
            return AuthenticateResult.NoResult();
        var found = header.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase)
            ? await keys.FindAsync(header[Bearer.Length..].Trim(), Context.RequestAborted)
            : null;
        if (found is null)
        {
            opens = await tries.TakeAsync([Misses()], Context.RequestAborted);
            return AuthenticateResult.Fail("no such key");
        }
        var caller = new ClaimsIdentity(
            [
                new(ClaimTypes.Name, found.Actor),
                new(KeyClaim, found.Id.ToString()),
                new(ScopeClaim, found.Scope.ToString()),
            ],
            SchemeName
        );
        return AuthenticateResult.Success(new(new ClaimsPrincipal(caller), SchemeName));
    }

    protected override async Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        var result = await HandleAuthenticateOnceSafeAsync();
        if (opens is { } then)
        {
            var wait = (int)Math.Ceiling((then - TimeProvider.GetUtcNow()).TotalSeconds);
            Response.Headers.RetryAfter = Math.Max(1, wait).ToString();
            Response.StatusCode = StatusCodes.Status429TooManyRequests;
            return;
        }
        // RFC 6750 3: what was sent and does not count is named as such.
        Response.Headers.WWWAuthenticate = result.None ? "Bearer" : "Bearer error=\"invalid_token\"";
        Response.StatusCode = StatusCodes.Status401Unauthorized;
    }

    private WindowLimit Misses() =>
        new(
            "missed-keys",
            Networks.Counted(Context.Connection.RemoteIpAddress),
            MissesPerMinute,
            TimeSpan.FromMinutes(1)
        );
}
