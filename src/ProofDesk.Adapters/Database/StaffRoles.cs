using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

public enum RoleResult
{
    Done,

    /// <summary>There is no such account, or nothing would change.</summary>
    Nothing,

    /// <summary>The shop would have no owner.</summary>
    LastOwner,
}

/// <summary>Gives people of the shop another role, or ends their account. The shop always keeps an owner.</summary>
public sealed class StaffRoles(Office office, EventLog events)
{
    /// <param name="word">The role in words, for the log.</param>
    public Task<RoleResult> ChangeAsync(
        Guid userId,
        StaffRole role,
        Func<StaffRole, string> word,
        string actor,
        CancellationToken cancel = default
    ) =>
        WriteAsync(
            userId,
            user => user.Role == role,
            role == StaffRole.Owner,
            (db, user) =>
            {
                var before = user.Role;
                user.Role = role;
                return StaffInvitations.About(
                    EventKind.RoleChanged,
                    actor,
                    user.Id,
                    ("name", user.DisplayName),
                    ("from", word(before)),
                    ("to", word(role))
                );
            },
            cancel
        );

    /// <summary>Sessions, second factors and passkeys go with the account; what it did stays in the record under its name.</summary>
    public Task<RoleResult> RemoveAsync(
        Guid userId,
        Func<StaffRole, string> word,
        string actor,
        CancellationToken cancel = default
    ) =>
        WriteAsync(
            userId,
            _ => false,
            false,
            (db, user) =>
            {
                db.Users.Remove(user);
                return StaffInvitations.About(
                    EventKind.ColleagueRemoved,
                    actor,
                    user.Id,
                    ("name", user.DisplayName),
                    ("role", word(user.Role)),
                    ("account", user.UserName ?? "")
                );
            },
            cancel
        );

    private async Task<RoleResult> WriteAsync(
        Guid userId,
        Func<StaffUser, bool> isSo,
        bool staysOwner,
        Func<OfficeDb, StaffUser, Happening> change,
        CancellationToken cancel
    )
    {
        SealedLeaf? leaf = null;
        var result = await office.WriteAsync(
            async db =>
            {
                // Two owners who demote each other at once come here one after the other.
                await db.LockLogHeadAsync(cancel);
                if (
                    await db.Users.SingleOrDefaultAsync(user => user.Id == userId, cancel) is not { } found
                    || isSo(found)
                )
                {
                    return RoleResult.Nothing;
                }
                if (
                    !staysOwner
                    && found.Role == StaffRole.Owner
                    && await db.Users.CountAsync(
                        user => user.Role == StaffRole.Owner && user.PasswordHash != null,
                        cancel
                    ) <= (found.PasswordHash is null ? 0 : 1)
                )
                {
                    return RoleResult.LastOwner;
                }
                (_, leaf) = await events.AppendAsync(db, change(db, found), cancel);
                return RoleResult.Done;
            },
            cancel
        );
        if (leaf is not null)
        {
            await events.PublishAsync(leaf, CancellationToken.None);
        }
        return result;
    }
}
