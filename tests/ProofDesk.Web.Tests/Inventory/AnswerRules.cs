using System.Collections.Concurrent;
using System.Net;
using System.Text.RegularExpressions;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>What every answer carries, whatever it is: page, picture, refusal, stream or download.</summary>
public sealed partial class AnswerRules
{
    private const string Digests =
        "^default-src 'none'; script-src 'sha256-[^']{44}'; style-src 'sha256-[^']{44}'; img-src blob:; base-uri 'none'; "
        + "form-action 'none'; require-trusted-types-for 'script'; frame-ancestors 'none'$";

    private static readonly Dictionary<string, string> Always = new()
    {
        ["X-Content-Type-Options"] = "nosniff",
        ["Referrer-Policy"] = "no-referrer",
        ["Cross-Origin-Opener-Policy"] = "same-origin",
        ["Cross-Origin-Resource-Policy"] = "same-origin",
        ["X-Robots-Tag"] = "noindex, nofollow",
    };

    private static readonly string[] Never = ["Server", "X-Powered-By", "X-AspNet-Version", "X-AspNetMvc-Version"];

    private readonly ConcurrentDictionary<string, string> nonces = new();

    public ConcurrentQueue<string> Faults { get; } = new();
    public ConcurrentDictionary<HttpStatusCode, int> Seen { get; } = new();

    public void Judge(HttpMethod method, Page page)
    {
        Seen.AddOrUpdate(page.Status, 1, (_, n) => n + 1);
        // An address that the listener does not read to its end never reaches us: it refuses it bare, like what is no request at all.
        if (page.Status == HttpStatusCode.RequestUriTooLong)
            return;
        foreach (var fault in FaultsOf(page))
            Faults.Enqueue($"{method} {page.Path} answered {(int)page.Status}: {fault}");
        var nonce = NonceOf().Match(page.Headers.GetValueOrDefault("Content-Security-Policy", "")).Value;
        if (nonce.Length > 0 && !nonces.TryAdd(nonce, page.Path))
            Faults.Enqueue($"{method} {page.Path}: nonce {nonce} was given out twice");
    }

    public static IEnumerable<string> FaultsOf(Page page)
    {
        var headers = page.Headers;
        var path = PathOf(page);
        var policy = headers.GetValueOrDefault("Content-Security-Policy", "none");
        var ownPolicy = path == RouteTable.VerifyPage && page.Status == HttpStatusCode.OK;
        if (!(ownPolicy ? Regex.IsMatch(policy, Digests) : PagePolicy().IsMatch(policy)))
            yield return $"Content-Security-Policy is {policy}";
        foreach (var (name, value) in Always)
        {
            if (headers.GetValueOrDefault(name, "none") != value)
                yield return $"{name} is {headers.GetValueOrDefault(name, "none")}, not {value}";
        }
        foreach (var name in Never.Where(headers.ContainsKey))
            yield return $"{name} is said: {headers[name]}";
        var camera = path == RouteTable.CameraPage && page.Status == HttpStatusCode.OK ? "(self)" : "()";
        var permissions = $"camera={camera}, microphone=(), geolocation=(), payment=(), usb=(), browsing-topics=()";
        if (headers.GetValueOrDefault("Permissions-Policy", "none") != permissions)
            yield return $"Permissions-Policy is {headers.GetValueOrDefault("Permissions-Policy", "none")}";
        foreach (var fault in FaultsOfKeeping(page, path))
            yield return fault;
        if (
            headers.TryGetValue("Location", out var to)
            && (!to.StartsWith('/') || to.StartsWith("//", StringComparison.Ordinal))
        )
            yield return $"it leads away, to {to}";
        if (headers.TryGetValue("Set-Cookie", out var cookies))
        {
            foreach (var cookie in NextCookie().Split(cookies).Where(c => !HttpOnlyLax().IsMatch(c)))
                yield return $"a cookie is set without httponly, samesite=lax and path=/: {cookie.Split('=')[0]}";
        }
        if (headers.GetValueOrDefault("Content-Type", "").StartsWith("text/html", StringComparison.Ordinal))
        {
            if (!headers["Content-Type"].Contains("charset=utf-8", StringComparison.OrdinalIgnoreCase))
                yield return $"a page says {headers["Content-Type"]}";
            if (Insides().Match(page.Text) is { Success: true } inside)
                yield return $"a page shows insides: {inside.Value}";
        }
    }

    /// <summary>Without host and query.</summary>
    public static string PathOf(Page page) =>
        Uri.TryCreate(page.Path, UriKind.Absolute, out var whole) ? whole.AbsolutePath : page.Path.Split('?')[0];

    // Only what was found may be kept: a refusal, a redirect and an error never.
    private static IEnumerable<string> FaultsOfKeeping(Page page, string path)
    {
        var keeping = string.Join(
            ", ",
            page.Headers.GetValueOrDefault("Cache-Control", "none").Split(", ").Order(StringComparer.Ordinal)
        );
        var isFound =
            page.Status
            is HttpStatusCode.OK
                or HttpStatusCode.PartialContent
                or HttpStatusCode.NotModified
                or HttpStatusCode.RequestedRangeNotSatisfiable;
        if (isFound && IsFile().IsMatch(path))
        {
            if (keeping != "max-age=86400, public")
                yield return $"Cache-Control of a file is {keeping}";
        }
        else if (!isFound && keeping != "no-store")
        {
            yield return $"Cache-Control is {keeping}, not no-store";
        }
        else if (keeping.Contains("public", StringComparison.Ordinal) || keeping == "none")
        {
            yield return $"Cache-Control is {keeping}";
        }
    }

    [GeneratedRegex(
        "^default-src 'none'; script-src 'nonce-[A-Za-z0-9+/]{22}=='; style-src 'self' 'nonce-[A-Za-z0-9+/]{22}=='; img-src 'self' blob:; connect-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types default$"
    )]
    private static partial Regex PagePolicy();

    [GeneratedRegex("(?<=script-src 'nonce-)[^']+")]
    private static partial Regex NonceOf();

    [GeneratedRegex("^/(css|js|lib)/|^/mark\\.svg$", RegexOptions.ExplicitCapture)]
    private static partial Regex IsFile();

    [GeneratedRegex(@", (?=[A-Za-z_.\-]+=)")]
    private static partial Regex NextCookie();

    [GeneratedRegex("(?=.*path=/)(?=.*samesite=lax)(?=.*httponly)", RegexOptions.IgnoreCase)]
    private static partial Regex HttpOnlyLax();

    [GeneratedRegex(@"   at [A-Z]\w+\.\w+.{0,60}|[A-Z]\w+Exception\b.{0,60}|SQLite Error.{0,60}")]
    private static partial Regex Insides();
}
