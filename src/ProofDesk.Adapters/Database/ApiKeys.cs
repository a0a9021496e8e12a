using System.Collections.Concurrent;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

/// <param name="ScopeWord">what the scope is called, for the log</param>
public sealed record KeyWish(string Name, KeyScope Scope, string ScopeWord, DateTimeOffset ExpiresAt);

public abstract record KeyMade
{
    private KeyMade() { }

    /// <param name="Secret">as it is sent; nobody can read it again</param>
    public sealed record Done(ApiKey Key, string Secret) : KeyMade;

    /// <summary>Another key has or had the name.</summary>
    public sealed record NameTaken : KeyMade;

    public sealed record TooMany : KeyMade;
}

/// <summary>
/// Keys for programs: made and ended as events of the log. The secret has 256 random bits and is written as RFC 8959 asks, so that
/// whoever looks for secrets in places where none belong finds it. When a key was last used is noted in memory and written at most
/// once a minute.
/// </summary>
public sealed class ApiKeys(Office office, EventLog events, TimeProvider time)
{
    /// <summary>RFC 8959.</summary>
    public const string Prefix = "secret-token:";

    public const int MostOpen = 50;
    public static readonly TimeSpan LongestLife = TimeSpan.FromDays(366);
    public static readonly TimeSpan SeenEvery = TimeSpan.FromMinutes(1);

    private readonly ConcurrentDictionary<Guid, DateTimeOffset> _seen = new();

    /// <summary>Open ones first, the newest of each first.</summary>
    public async Task<IReadOnlyList<ApiKey>> ListAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var all = await db.ApiKeys.AsNoTracking().OrderByDescending(key => key.CreatedAt).ToListAsync(cancel);
        var now = time.GetUtcNow();
        return [.. all.OrderByDescending(key => key.IsOpen(now))];
    }

    public async Task<KeyMade> MakeAsync(KeyWish wish, string actor, CancellationToken cancel = default)
    {
        SealedLeaf? leaf = null;
        var result = await office.WriteAsync<KeyMade>(
            async db =>
            {
                await db.LockLogHeadAsync(cancel);
                if (await db.ApiKeys.AnyAsync(key => key.Name == wish.Name, cancel))
                {
                    return new KeyMade.NameTaken();
                }
                var now = time.GetUtcNow();
                if (await db.ApiKeys.CountAsync(key => key.EndedAt == null && key.ExpiresAt > now, cancel) >= MostOpen)
                {
                    return new KeyMade.TooMany();
                }
                var token = LinkToken.New();
                var made = new ApiKey
                {
                    Name = wish.Name,
                    Scope = wish.Scope,
                    SecretSha256 = LinkToken.DigestOf(token),
                    MadeBy = actor,
                    CreatedAt = now,
                    ExpiresAt = wish.ExpiresAt,
                };
                db.ApiKeys.Add(made);
                (_, leaf) = await events.AppendAsync(
                    db,
                    StaffInvitations.About(
                        EventKind.ApiKeyMade,
                        actor,
                        made.Id,
                        ("name", made.Name),
                        ("scope", wish.ScopeWord),
                        ("until", made.ExpiresAt.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))
                    ),
                    cancel
                );
                return new KeyMade.Done(made, Prefix + token);
            },
            cancel
        );
        if (leaf is not null)
        {
            await events.PublishAsync(leaf, CancellationToken.None);
        }
        return result;
    }

    /// <summary>The key closes at once. False when there is none that is open.</summary>
    public async Task<bool> EndAsync(Guid id, string actor, CancellationToken cancel = default)
    {
        var leaf = await office.WriteAsync(
            async db =>
            {
                await db.LockLogHeadAsync(cancel);
                if (
                    await db.ApiKeys.SingleOrDefaultAsync(key => key.Id == id && key.EndedAt == null, cancel)
                    is not { } open
                )
                {
                    return null;
                }
                (open.EndedAt, open.EndedBy) = (time.GetUtcNow(), actor);
                var happening = StaffInvitations.About(EventKind.ApiKeyEnded, actor, open.Id, ("name", open.Name));
                return (await events.AppendAsync(db, happening, cancel)).Leaf;
            },
            cancel
        );
        if (leaf is null)
        {
            return false;
        }
        await events.PublishAsync(leaf, CancellationToken.None);
        return true;
    }

    /// <summary>The open key of a secret as it was sent; null for everything else, whatever is wrong with it.</summary>
    public async Task<ApiKey?> FindAsync(string secret, CancellationToken cancel = default)
    {
        if (!secret.StartsWith(Prefix, StringComparison.Ordinal) || !LinkToken.IsWhole(secret[Prefix.Length..]))
        {
            return null;
        }
        var digest = LinkToken.DigestOf(secret[Prefix.Length..]);
        await using var db = office.Open();
        var found = await db.ApiKeys.AsNoTracking().SingleOrDefaultAsync(key => key.SecretSha256 == digest, cancel);
        var now = time.GetUtcNow();
        if (found is null || !found.IsOpen(now))
        {
            return null;
        }
        if (found.LastUsedAt is not { } last || now - last >= SeenEvery)
        {
            _seen[found.Id] = now;
        }
        return found;
    }

    /// <summary>Writes down when keys were last used.</summary>
    public async Task WriteSeenAsync(CancellationToken cancel = default)
    {
        foreach (var (id, at) in _seen.ToArray())
        {
            await office.WriteAsync(
                db =>
                    db.ApiKeys.Where(key => key.Id == id)
                        .ExecuteUpdateAsync(set => set.SetProperty(key => key.LastUsedAt, at), cancel),
                cancel
            );
            _seen.TryRemove(new KeyValuePair<Guid, DateTimeOffset>(id, at));
        }
    }
}
