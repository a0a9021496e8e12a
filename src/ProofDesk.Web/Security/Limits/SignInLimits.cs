using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Security.Limits;

/// <summary>
/// What is counted when somebody signs in. A browser that has signed in to the account before is counted apart from all others:
/// a stranger who guesses slows strangers down, not the person who works here. Passkeys are no guesses and count by network alone.
/// </summary>
public sealed class SignInLimits(KnownBrowsers browsers)
{
    /// <summary>Wrong answers from one network in <see cref="Window"/>, whosever account it was.</summary>
    public const int OfNetwork = 50;

    public static readonly TimeSpan Window = TimeSpan.FromMinutes(15);

    /// <summary>Old password, or password again, within one session.</summary>
    public static TryLimit Again(Guid session) => new GrowingLimit("again", session.ToString());

    public IReadOnlyList<TryLimit> Password(HttpContext http, string email) =>
        [OfAccount("sign-in", http, email), Network(http)];

    public IReadOnlyList<TryLimit> SecondStep(HttpContext http, string email) =>
        [OfAccount("second-step", http, email), Network(http)];

    public static IReadOnlyList<TryLimit> Passkey(HttpContext http) => [Network(http)];

    private GrowingLimit OfAccount(string name, HttpContext http, string email)
    {
        var account = KnownBrowsers.Plain(email);
        return browsers.Find(http, account) is { } known
            ? new GrowingLimit(name + "-known", account + "\n" + known)
            : new GrowingLimit(name, account);
    }

    private static WindowLimit Network(HttpContext http) =>
        new("sign-in-network", Networks.Counted(http.Connection.RemoteIpAddress), OfNetwork, Window);
}
