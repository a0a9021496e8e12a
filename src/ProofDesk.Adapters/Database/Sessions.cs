using System.Buffers.Text;
using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

/// <summary>A session as its person sees it.</summary>
public sealed record SessionCard(
    Guid Id,
    string Network,
    string Agent,
    DateTimeOffset Since,
    DateTimeOffset LastSeen,
    DateTimeOffset EndsAt
);

/// <summary>A session that may be used now.</summary>
/// <param name="SecurityStamp">of the account as it stands now; a ticket with another one was made before a change</param>
public sealed record OpenSession(Guid Id, Guid UserId, byte[] Ticket, string? SecurityStamp);

/// <summary>
/// Sessions of staff as rows. The key has 256 random bits and the row only its SHA-256, so the table opens no session. When a session
/// was last used is noted in memory and written behind the requests, at most once a minute for each.
/// </summary>
public sealed class Sessions(Office office, TimeProvider time)
{
    /// <summary>A working day; NIST SP 800-63B-4 2.2.3 allows 24 h at its second level.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromHours(12);

    /// <summary>Without any request (NIST SP 800-63B-4 2.2.3: 1 h at most).</summary>
    public static readonly TimeSpan Idle = TimeSpan.FromHours(1);

    public static readonly TimeSpan SeenEvery = TimeSpan.FromMinutes(1);

    /// <summary>Ended rows are of use while somebody asks who was signed in when.</summary>
    private static readonly TimeSpan Kept = TimeSpan.FromDays(30);

    private readonly ConcurrentDictionary<Guid, DateTimeOffset> _seen = new();

    /// <param name="signedIn">who signed in, for the trail; null when a session goes on under another key</param>
    /// <returns>the key for the cookie</returns>
    public async Task<string> OpenAsync(
        Guid userId,
        byte[] ticket,
        string network,
        string agent,
        DateTimeOffset? endsAt = null,
        string? signedIn = null,
        CancellationToken cancel = default
    )
    {
        var key = Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));
        await office.WriteAsync(
            async db =>
            {
                var now = time.GetUtcNow();
                db.StaffSessions.Add(
                    new StaffSession
                    {
                        KeySha256 = DigestOf(key),
                        UserId = userId,
                        Ticket = ticket,
                        Network = network,
                        Agent = agent,
                        CreatedAt = now,
                        LastSeenAt = now,
                        ExpiresAt = endsAt ?? now + Longest,
                    }
                );
                if (signedIn is not null)
                {
                    db.Note(time, signedIn, "signed in", null, $"{agent}, network {network}");
                }
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );
        return key;
    }

    /// <summary>Null when there is none, or it ended, lay idle or grew too old, or its person is locked out.</summary>
    public async Task<OpenSession?> FindAsync(string key, CancellationToken cancel = default)
    {
        var digest = DigestOf(key);
        var now = time.GetUtcNow();
        await using var db = office.Open();
        var found = await (
            from session in Open(db, now)
            join user in db.Users on session.UserId equals user.Id
            where session.KeySha256 == digest
            select new
            {
                session.LastSeenAt,
                user.LockoutEnabled,
                user.LockoutEnd,
                Session = new OpenSession(session.Id, session.UserId, session.Ticket, user.SecurityStamp),
            }
        ).SingleOrDefaultAsync(cancel);
        if (found is null || (found.LockoutEnabled && found.LockoutEnd > now))
        {
            return null;
        }
        if (now - found.LastSeenAt >= SeenEvery)
        {
            _seen[found.Session.Id] = now;
        }
        return found.Session;
    }

    /// <summary>The same session goes on with another ticket.</summary>
    public Task KeepAsync(string key, byte[] ticket, CancellationToken cancel = default)
    {
        var digest = DigestOf(key);
        return office.WriteAsync(
            db =>
                db.StaffSessions.Where(row => row.KeySha256 == digest && row.EndedAt == null)
                    .ExecuteUpdateAsync(set => set.SetProperty(row => row.Ticket, ticket), cancel),
            cancel
        );
    }

    public Task EndAsync(string key, CancellationToken cancel = default)
    {
        var digest = DigestOf(key);
        return office.WriteAsync(
            db => EndAsync(db.StaffSessions.Where(row => row.KeySha256 == digest), time.GetUtcNow(), cancel),
            cancel
        );
    }

    /// <summary>What is open now, last used first.</summary>
    public async Task<IReadOnlyList<SessionCard>> OfAsync(Guid userId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await Open(db, time.GetUtcNow())
            .Where(row => row.UserId == userId)
            .OrderByDescending(row => row.LastSeenAt)
            .ThenByDescending(row => row.Id)
            .Select(row => new SessionCard(
                row.Id,
                row.Network,
                row.Agent,
                row.CreatedAt,
                row.LastSeenAt,
                row.ExpiresAt
            ))
            .ToListAsync(cancel);
    }

    /// <summary>Ends one session of a person. False when it is not theirs or had ended.</summary>
    public Task<bool> EndOneAsync(Guid userId, Guid sessionId, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
                await EndAsync(
                    db.StaffSessions.Where(row => row.UserId == userId && row.Id == sessionId),
                    time.GetUtcNow(),
                    cancel
                ) > 0,
            cancel
        );

    /// <summary>Ends every session of a person but one, or every one; noted in the trail.</summary>
    /// <returns>how many ended</returns>
    public Task<int> EndAllAsync(Guid userId, Guid? but, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var ended = await EndAllAsync(db, userId, but, time.GetUtcNow(), cancel);
                var whose = await db.Users.Where(row => row.Id == userId).Select(row => row.Email).SingleAsync(cancel);
                db.Note(time, actor, "sessions ended", null, $"{ended} of {whose}");
                await db.SaveChangesAsync(cancel);
                return ended;
            },
            cancel
        );

    /// <summary>The same inside the transaction of what makes it necessary: another role, another password.</summary>
    public static Task<int> EndAllAsync(
        OfficeDb db,
        Guid userId,
        Guid? but,
        DateTimeOffset now,
        CancellationToken cancel
    ) => EndAsync(db.StaffSessions.Where(row => row.UserId == userId && row.Id != but), now, cancel);

    /// <summary>Writes when sessions were last used, and forgets those long ended.</summary>
    internal async Task WriteSeenAsync(CancellationToken cancel = default)
    {
        var now = time.GetUtcNow();
        if (!_seen.IsEmpty)
        {
            var seen = _seen.ToArray();
            await office.WriteAsync(
                async db =>
                {
                    foreach (var (id, at) in seen)
                    {
                        await db
                            .StaffSessions.Where(row => row.Id == id && row.LastSeenAt < at)
                            .ExecuteUpdateAsync(set => set.SetProperty(row => row.LastSeenAt, at), cancel);
                    }
                },
                cancel
            );
            foreach (var one in seen)
            {
                _seen.TryRemove(one);
            }
        }
        var old = now - Kept;
        await using var reading = office.Open();
        if (await reading.StaffSessions.AnyAsync(row => row.ExpiresAt < old, cancel))
        {
            await office.WriteAsync(
                db => db.StaffSessions.Where(row => row.ExpiresAt < old).ExecuteDeleteAsync(cancel),
                cancel
            );
        }
    }

    private static IQueryable<StaffSession> Open(OfficeDb db, DateTimeOffset now)
    {
        var idleSince = now - Idle;
        return db
            .StaffSessions.AsNoTracking()
            .Where(row => row.EndedAt == null && row.ExpiresAt > now && row.LastSeenAt > idleSince);
    }

    private static Task<int> EndAsync(IQueryable<StaffSession> which, DateTimeOffset now, CancellationToken cancel) =>
        which
            .Where(row => row.EndedAt == null)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.EndedAt, now), cancel);

    private static byte[] DigestOf(string key) => SHA256.HashData(Encoding.UTF8.GetBytes(key));
}
