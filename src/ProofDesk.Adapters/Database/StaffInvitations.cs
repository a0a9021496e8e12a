using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

/// <param name="Means">What the role may do, for the letter.</param>
public sealed record StaffInvite(string Name, string Email, StaffRole Role, string RoleWord, string Means);

public abstract record InviteResult
{
    private InviteResult() { }

    public sealed record Sent(Guid InvitationId) : InviteResult;

    public sealed record Refused(string Why) : InviteResult;
}

/// <summary>
/// Mailed links that make an account: the token is only in the letter, its digest in the row; a link works once, for seven days, and
/// can be called back. Each step is an event of the log.
/// </summary>
public sealed class StaffInvitations(Office office, EventLog events, Outbox outbox, TimeProvider time)
{
    /// <summary>Kind of the letter; who reads it can take the account, so it is for the owner's eyes.</summary>
    public const string LetterKind = "staff-invitation";

    public const int MostOpen = 50;
    private static readonly TimeSpan Life = TimeSpan.FromDays(7);

    /// <summary>Links that still work, newest first.</summary>
    public async Task<IReadOnlyList<StaffInvitation>> OpenAsync(CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await Open(db).OrderByDescending(row => row.CreatedAt).ToListAsync(cancel);
    }

    /// <summary>The invitation of a link that still works; null for every other token, whatever is wrong with it.</summary>
    public async Task<StaffInvitation?> FindAsync(string token, CancellationToken cancel = default)
    {
        if (!LinkToken.IsWhole(token))
        {
            return null;
        }
        await using var db = office.Open();
        return await FindAsync(db, token, cancel);
    }

    public async Task<InviteResult> InviteAsync(StaffInvite invite, string actor, CancellationToken cancel = default)
    {
        if (MailAddresses.Problem(invite.Email) is { } problem)
        {
            return new InviteResult.Refused($"Not mailed: {problem}.");
        }
        SealedLeaf? last = null;
        var result = await office.WriteAsync<InviteResult>(
            async db =>
            {
                await db.LockLogHeadAsync(cancel);
                if (await HasAccountAsync(db, invite.Email, cancel))
                {
                    return new InviteResult.Refused(
                        $"{invite.Email} has an account here already: change its role instead."
                    );
                }
                if (await Open(db).CountAsync(cancel) >= MostOpen)
                {
                    return new InviteResult.Refused(
                        $"{MostOpen} invitations are open, and no more can be. Call one back first."
                    );
                }
                var shop = await db.ShopAsync(cancel);
                if (await outbox.QuotaAsync(db, shop, actor, 1, cancel) is { } many)
                {
                    return new InviteResult.Refused($"Not mailed: {many}.");
                }
                var token = LinkToken.New();
                var now = time.GetUtcNow();
                var row = new StaffInvitation
                {
                    Email = invite.Email,
                    Name = invite.Name,
                    Role = invite.Role,
                    TokenSha256 = LinkToken.DigestOf(token),
                    InvitedBy = actor,
                    CreatedAt = now,
                    ExpiresAt = now + Life,
                };
                db.StaffInvitations.Add(row);
                outbox.Add(
                    db,
                    new OutboxMail
                    {
                        Kind = LetterKind,
                        Recipient = invite.Email,
                        Subject = "",
                        CausedBy = actor,
                    },
                    Letters.StaffInvited(shop, row, invite.Means, $"{shop.PublicBaseUrl}/join/{token}"),
                    shop
                );
                (_, last) = await events.AppendAsync(
                    db,
                    About(EventKind.ColleagueInvited, actor, row.Id, ("name", row.Name), ("role", invite.RoleWord)),
                    cancel
                );
                return new InviteResult.Sent(row.Id);
            },
            cancel
        );
        if (last is not null)
        {
            await events.PublishAsync(last, CancellationToken.None);
            outbox.Ring();
        }
        return result;
    }

    /// <summary>False when no such link is open.</summary>
    public Task<bool> RevokeAsync(Guid invitationId, string actor, CancellationToken cancel = default) =>
        LoggedAsync(
            async db =>
            {
                if (await Open(db).SingleOrDefaultAsync(row => row.Id == invitationId, cancel) is not { } open)
                {
                    return null;
                }
                open.RevokedAt = time.GetUtcNow();
                return About(EventKind.InvitationRevoked, actor, open.Id, ("name", open.Name));
            },
            cancel
        );

    /// <summary>Makes the account a link promises. False when the link does not work any more: the first one who comes has it.</summary>
    /// <param name="account">With its password's hash; address and role come from the invitation.</param>
    public Task<bool> JoinAsync(string token, StaffUser account, string roleWord, CancellationToken cancel = default) =>
        LoggedAsync(
            async db =>
            {
                if (await FindAsync(db, token, cancel) is not { } open || await HasAccountAsync(db, open.Email, cancel))
                {
                    return null;
                }
                open.UsedAt = time.GetUtcNow();
                account.UserName = account.Email = open.Email;
                account.NormalizedUserName = account.NormalizedEmail = Normal(open.Email);
                (account.EmailConfirmed, account.Role) = (true, open.Role);
                db.Users.Add(account);
                return About(
                    EventKind.ColleagueJoined,
                    open.Email,
                    account.Id,
                    ("name", account.DisplayName),
                    ("role", roleWord),
                    ("invited-by", open.InvitedBy)
                );
            },
            cancel
        );

    /// <summary>What it changes and says, in one transaction under the lock of the log. False when there was nothing to say.</summary>
    private async Task<bool> LoggedAsync(Func<OfficeDb, Task<Happening?>> change, CancellationToken cancel)
    {
        var leaf = await office.WriteAsync(
            async db =>
            {
                await db.LockLogHeadAsync(cancel);
                return await change(db) is { } happening
                    ? (await events.AppendAsync(db, happening, cancel)).Leaf
                    : null;
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

    internal static Happening About(
        EventKind kind,
        string actor,
        Guid subject,
        params ReadOnlySpan<(string Name, string Value)> facts
    )
    {
        var all = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (var (name, value) in facts)
        {
            all.Add(name, value);
        }
        return new Happening(kind, actor, all.ToImmutable(), SubjectId: subject);
    }

    private IQueryable<StaffInvitation> Open(OfficeDb db)
    {
        var now = time.GetUtcNow();
        return db.StaffInvitations.Where(row => row.UsedAt == null && row.RevokedAt == null && row.ExpiresAt > now);
    }

    private async Task<StaffInvitation?> FindAsync(OfficeDb db, string token, CancellationToken cancel)
    {
        var digest = LinkToken.DigestOf(token);
        return await Open(db).SingleOrDefaultAsync(row => row.TokenSha256 == digest, cancel);
    }

    private static Task<bool> HasAccountAsync(OfficeDb db, string address, CancellationToken cancel)
    {
        var normal = Normal(address);
        return db.Users.AnyAsync(user => user.NormalizedEmail == normal, cancel);
    }

    /// <summary>As ASP.NET Core Identity's own normaliser writes it.</summary>
    private static string Normal(string address) => address.Normalize().ToUpperInvariant();
}
