using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

/// <summary>How often something may be tried. The part after the name is hashed: people type passwords into the wrong field.</summary>
public abstract record TryLimit(string Name, string Of)
{
    internal string Key { get; } =
        $"{Name}:{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Of))[..16])}";
}

/// <summary>So many in each window.</summary>
public sealed record WindowLimit(string Name, string Of, int Most, TimeSpan Window) : TryLimit(Name, Of);

/// <summary>
/// A few at once, then waits that double: for guesses at one secret. From the hundredth in a row on it is one a day (NIST SP
/// 800-63B-4 3.2.2 has at most 100 in a row), and never a closed door: a stranger could close it for anybody.
/// </summary>
public sealed record GrowingLimit(string Name, string Of) : TryLimit(Name, Of)
{
    public const int AtOnce = 5;
    public const int InARow = 100;
    public static readonly TimeSpan FirstWait = TimeSpan.FromMinutes(1);
    public static readonly TimeSpan LongestWait = TimeSpan.FromHours(1);
    public static readonly TimeSpan DailyWait = TimeSpan.FromDays(1);

    /// <summary>After so many in a row without success.</summary>
    public static TimeSpan WaitAfter(int tries) =>
        tries < AtOnce ? TimeSpan.Zero
        : tries >= InARow ? DailyWait
        : tries - AtOnce >= 6 ? LongestWait
        : FirstWait * (1 << (tries - AtOnce));
}

/// <summary>
/// Tries at sign-in, codes and links, counted in the database so that neither a restart nor a second node forgets them. A try is
/// counted before the secret is looked at and given back when it was right: a thousand guesses at once are still five.
/// </summary>
public sealed class TryCounts(Office office, TimeProvider time)
{
    /// <summary>Longer than any wait; a month of rest begins anew.</summary>
    private static readonly TimeSpan Kept = TimeSpan.FromDays(30);

    /// <summary>Counts one try under every limit, or none when one of them is used up.</summary>
    /// <returns>null, or when it may be tried again</returns>
    public Task<DateTimeOffset?> TakeAsync(IReadOnlyList<TryLimit> limits, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                // Always in the same order, so that two that take the same pair do not wait for each other.
                var ordered = limits.OrderBy(limit => limit.Key, StringComparer.Ordinal).ToList();
                foreach (var limit in ordered)
                {
                    await db.LockTriesAsync(limit.Key, cancel);
                }
                var now = time.GetUtcNow();
                DateTimeOffset? opens = null;
                foreach (var limit in ordered)
                {
                    if (await OpensAsync(db, limit, now, cancel) is { } then && (opens is null || then > opens))
                    {
                        opens = then;
                    }
                }
                if (opens is null)
                {
                    foreach (var limit in ordered)
                    {
                        await CountAsync(db, limit, now, cancel);
                    }
                    await db.SaveChangesAsync(cancel);
                }
                return opens;
            },
            cancel
        );

    /// <summary>When it may be tried again, or null: counts nothing.</summary>
    public async Task<DateTimeOffset?> LookAsync(TryLimit limit, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await OpensAsync(db, limit, time.GetUtcNow(), cancel);
    }

    /// <summary>It was no guess: a row of failures ends, a window gets the try back.</summary>
    public Task GiveBackAsync(IReadOnlyList<TryLimit> limits, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                foreach (var limit in limits.OrderBy(limit => limit.Key, StringComparer.Ordinal))
                {
                    var rows = db.RateCounts.Where(row => row.Key == limit.Key);
                    if (limit is WindowLimit window)
                    {
                        var start = Start(window, time.GetUtcNow());
                        await rows.Where(row => row.WindowStart == start && row.Count > 0)
                            .ExecuteUpdateAsync(set => set.SetProperty(row => row.Count, row => row.Count - 1), cancel);
                    }
                    else
                    {
                        await rows.ExecuteDeleteAsync(cancel);
                    }
                }
            },
            cancel
        );

    /// <summary>Removes what limits nothing any more.</summary>
    internal async Task ForgetAsync(CancellationToken cancel = default)
    {
        var old = time.GetUtcNow() - Kept;
        await using var reading = office.Open();
        if (await reading.RateCounts.AnyAsync(row => row.WindowStart < old, cancel))
        {
            await office.WriteAsync(
                db => db.RateCounts.Where(row => row.WindowStart < old).ExecuteDeleteAsync(cancel),
                cancel
            );
        }
    }

    private static async Task<DateTimeOffset?> OpensAsync(
        OfficeDb db,
        TryLimit limit,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        if (limit is WindowLimit window)
        {
            var start = Start(window, now);
            var counted = await db.RateCounts.AnyAsync(
                row => row.Key == limit.Key && row.WindowStart == start && row.Count >= window.Most,
                cancel
            );
            return counted ? start + window.Window : null;
        }
        var newest = await NewestAsync(db, limit, cancel);
        var opens = newest is null ? now : newest.WindowStart + GrowingLimit.WaitAfter(newest.Count);
        return opens > now ? opens : null;
    }

    private static async Task CountAsync(OfficeDb db, TryLimit limit, DateTimeOffset now, CancellationToken cancel)
    {
        if (limit is WindowLimit window)
        {
            var start = Start(window, now);
            var counted = await db
                .RateCounts.Where(row => row.Key == limit.Key && row.WindowStart == start)
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.Count, row => row.Count + 1), cancel);
            if (counted == 0)
            {
                await db.RateCounts.Where(row => row.Key == limit.Key).ExecuteDeleteAsync(cancel);
                Add(db, limit, start, 1);
            }
            return;
        }
        // The row's time is the last try's and its count the length of the row of failures.
        var newest = await NewestAsync(db, limit, cancel);
        await db.RateCounts.Where(row => row.Key == limit.Key).ExecuteDeleteAsync(cancel);
        Add(db, limit, now, (newest?.Count ?? 0) + 1);
    }

    private static void Add(OfficeDb db, TryLimit limit, DateTimeOffset start, int count) =>
        db.RateCounts.Add(
            new RateCount
            {
                Key = limit.Key,
                WindowStart = start,
                Count = count,
            }
        );

    private static Task<RateCount?> NewestAsync(OfficeDb db, TryLimit limit, CancellationToken cancel) =>
        db
            .RateCounts.AsNoTracking()
            .Where(row => row.Key == limit.Key)
            .OrderByDescending(row => row.WindowStart)
            .FirstOrDefaultAsync(cancel);

    private static DateTimeOffset Start(WindowLimit limit, DateTimeOffset now) =>
        new(now.UtcTicks - now.UtcTicks % limit.Window.Ticks, TimeSpan.Zero);
}
