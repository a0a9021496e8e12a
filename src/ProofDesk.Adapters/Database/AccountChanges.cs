using System.Collections.Immutable;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

/// <summary>A change of how somebody signs in.</summary>
/// <param name="Person">whose account it is, as it is now</param>
/// <param name="What">a sentence without its end, for the letter: "your password was changed"</param>
/// <param name="Facts">for the log</param>
/// <param name="EndsSessions">every session of the account ends; the caller opens a new one for the browser at hand</param>
public sealed record AccountChange(
    StaffUser Person,
    EventKind Kind,
    string What,
    ImmutableSortedDictionary<string, string> Facts,
    bool EndsSessions = true
);

/// <summary>
/// One transaction for what belongs together: the account's rows, the end of its sessions, an event of the log, a line of the trail
/// and the letter to the account's address.
/// </summary>
public sealed class AccountChanges(Office office, EventLog events, Outbox outbox, TimeProvider time)
{
    /// <param name="change">changes rows of the context it is given; null when nothing was changed</param>
    public async Task<AccountChange?> MakeAsync(
        string actor,
        Func<OfficeDb, Task<AccountChange?>> change,
        CancellationToken cancel = default
    )
    {
        var (made, leaf) = await office.WriteAsync(
            async db =>
            {
                if (await change(db) is not { } done)
                {
                    return (null, null);
                }
                var now = time.GetUtcNow();
                if (done.EndsSessions)
                {
                    await Sessions.EndAllAsync(db, done.Person.Id, null, now, cancel);
                }
                var shop = await db.ShopAsync(cancel);
                db.Note(time, actor, EventJson.Word(done.Kind).Replace('-', ' '), null, done.Person.Email ?? "");
                outbox.Add(
                    db,
                    new OutboxMail
                    {
                        Kind = "account",
                        Recipient = done.Person.Email!,
                        Subject = "",
                        CausedBy = "",
                    },
                    Letters.AccountChanged(shop, done.Person, done.What, now),
                    shop
                );
                var (_, leaf) = await events.AppendAsync(
                    db,
                    new Happening(
                        done.Kind,
                        actor,
                        done.Facts.SetItem("account", done.Person.Id.ToString()),
                        SubjectId: done.Person.Id
                    ),
                    cancel
                );
                return ((AccountChange?)done, (SealedLeaf?)leaf);
            },
            cancel
        );
        if (leaf is not null)
        {
            await events.PublishAsync(leaf, cancel);
            outbox.Ring();
        }
        return made;
    }
}
