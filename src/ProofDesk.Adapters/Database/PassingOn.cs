using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Database;

public abstract record PassResult
{
    private PassResult() { }

    public sealed record Passed(Guid InvitationId) : PassResult;

    /// <summary>What is wrong with the address or the name.</summary>
    public sealed record Unusable(string Problem) : PassResult;

    public sealed record TooMany(int Most) : PassResult;

    /// <summary>The link itself is closed.</summary>
    public sealed record Closed : PassResult;
}

/// <summary>
/// What the holder of a link does with it besides answering: gives a further person a link of their own, or asks the shop for a new
/// one when it has ended. The second writes to the shop only, never to an address somebody typed.
/// </summary>
public sealed class PassingOn(Office office, Outbox outbox, TimeProvider time)
{
    public const int Most = 5;

    /// <summary>One asking a link and day.</summary>
    private static readonly TimeSpan Quiet = TimeSpan.FromDays(1);

    public async Task<PassResult> PassOnAsync(Guid invitationId, LinkRecipient to, CancellationToken cancel = default)
    {
        if (Problem(to) is { } problem)
        {
            return new PassResult.Unusable(problem);
        }
        var result = await office.WriteAsync(db => PassOnAsync(db, invitationId, to, cancel), cancel);
        outbox.Ring();
        return result;
    }

    /// <summary>Tells the shop that somebody who holds an ended link wants a new one.</summary>
    public async Task AskForNewAsync(Guid invitationId, CancellationToken cancel = default)
    {
        await office.WriteAsync(db => AskForNewAsync(db, invitationId, cancel), cancel);
        outbox.Ring();
    }

    private async Task<PassResult> PassOnAsync(
        OfficeDb db,
        Guid invitationId,
        LinkRecipient to,
        CancellationToken cancel
    )
    {
        await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var held = await db.Invitations.AsNoTracking().SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        if (held is null or { Purpose: InvitationPurpose.Dispute } || Invitations.GoneSince(held, now) is not null)
        {
            return new PassResult.Closed();
        }
        if (await db.Invitations.CountAsync(row => row.PassedOnFromId == invitationId, cancel) >= Most)
        {
            return new PassResult.TooMany(Most);
        }
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Order)
            .Where(row => row.OrderId == held.OrderId && row.SentAt != null)
            .OrderByDescending(row => row.Number)
            .FirstAsync(cancel);
        var shop = await db.ShopAsync(cancel);
        var (passed, _) = new MailedLink(outbox, shop, "invitation").Add(
            db,
            digest => new Invitation
            {
                OrderId = held.OrderId,
                VersionId = version.Id,
                Purpose = held.Purpose,
                TokenSha256 = digest,
                Recipient = to.Email,
                RecipientName = to.Name,
                Locale = held.Locale,
                CreatedAt = now,
                ExpiresAt = held.ExpiresAt,
                PassedOnFromId = held.Id,
            },
            (invited, link) => Letters.PassedOn(shop, version.Order!, version, to, held, link, invited.ExpiresAt)
        );
        db.Note(time, held.Recipient, "link passed on", held.OrderId, to.Email);
        await db.SaveChangesAsync(cancel);
        return new PassResult.Passed(passed.Id);
    }

    private async Task AskForNewAsync(OfficeDb db, Guid invitationId, CancellationToken cancel)
    {
        await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var held = await db
            .Invitations.AsNoTracking()
            .Include(row => row.Order)
            .SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        if (held is null || Invitations.GoneSince(held, now) is null)
        {
            return;
        }
        var since = now - Quiet;
        if (
            await db.OutboxMails.AnyAsync(
                row => row.InvitationId == invitationId && row.Kind == "link-wanted" && row.CreatedAt > since,
                cancel
            )
        )
        {
            return;
        }
        db.Note(time, held.Recipient, "asks for a new link", held.OrderId, held.Recipient);
        var shop = await db.ShopAsync(cancel);
        if (MailAddresses.Problem(shop.ReplyTo) is null)
        {
            outbox.Add(
                db,
                new OutboxMail
                {
                    OrderId = held.OrderId,
                    InvitationId = held.Id,
                    Kind = "link-wanted",
                    Recipient = shop.ReplyTo,
                    Subject = "",
                },
                Letters.LinkWanted(shop, held.Order!, held),
                shop
            );
        }
        await db.SaveChangesAsync(cancel);
    }

    private static string? Problem(LinkRecipient to) =>
        MailAddresses.Problem(to.Email)
        ?? (
            MailAddresses.HasControls(to.Name) || to.Name.Length > 200
                ? "the name has a line break or is longer than 200 characters"
                : null
        );
}
