using System.Collections.Concurrent;
using System.Net;

namespace ProofDesk.Web.Security;

/// <summary>
/// Counts link misses per address and minute: 20 unknown tokens, then 429 for the rest of the minute (portal L8). Tokens
/// have 256 bits, so this is about noise and load, not about guessing.
/// </summary>
public sealed class MissedLinks(TimeProvider time)
{
    public const int AllowedPerMinute = 20;
    private readonly ConcurrentDictionary<(string Address, long Minute), int> counts = new();

    public bool IsBlocked(IPAddress? address) => counts.GetValueOrDefault(Key(address)) >= AllowedPerMinute;

    public void Count(IPAddress? address)
    {
        var key = Key(address);
        counts.AddOrUpdate(key, 1, (_, n) => n + 1);
        foreach (var old in counts.Keys.Where(k => k.Minute < key.Minute))
            counts.TryRemove(old, out _);
    }

    private (string Address, long Minute) Key(IPAddress? address) =>
        (address?.ToString() ?? "none", time.GetUtcNow().ToUnixTimeSeconds() / 60);
}
