using System.Globalization;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Limits;

namespace ProofDesk.Web.Security;

/// <summary>
/// Counts links nobody gave out, per network and minute: 20 unknown tokens, then 429 for the rest of the minute (portal L8). Review
/// links, the owner's and invitations alike. Tokens have 256 bits, so this is about noise and load, not about guessing. Only a miss
/// is written down.
/// </summary>
public sealed class MissedLinks(TryCounts tries)
{
    public const int AllowedPerMinute = 20;

    /// <summary>True when this visitor has to wait; the answer then is a 429 and says in its headers how long.</summary>
    public async Task<bool> RefusesAsync(HttpContext http)
    {
        if (await tries.LookAsync(Limit(http), http.RequestAborted) is not { } opens)
            return false;
        var now = http.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();
        var seconds = Math.Max(1, (int)Math.Ceiling((opens - now).TotalSeconds));
        http.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        return true;
    }

    public Task CountAsync(HttpContext http) => tries.TakeAsync([Limit(http)], http.RequestAborted);

    private static WindowLimit Limit(HttpContext http) =>
        new(
            "missed-links",
            Networks.Counted(http.Connection.RemoteIpAddress),
            AllowedPerMinute,
            TimeSpan.FromMinutes(1)
        );
}
