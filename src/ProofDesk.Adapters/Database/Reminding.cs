using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Asks once more for an answer that has not come: as often as the shop's rules say, three times a version at most, never after an
/// answer, and never somebody who said no to it. A link's token is not kept, so each reminder brings a new link of the same life.
/// </summary>
public sealed class Reminding(Office office, Outbox outbox, TimeProvider time)
{
    /// <summary>Mails every reminder that is due now; gives how many.</summary>
    public async Task<int> RunAsync(CancellationToken cancel = default)
    {
        var sent = await office.WriteAsync(db => RunAsync(db, cancel), cancel);
        if (sent > 0)
        {
            outbox.Ring();
        }
        return sent;
    }

    /// <summary>No further reminder about the order for whoever reads that address.</summary>
    /// <param name="actor">who of the shop stops them; null: the reader of the address does</param>
    public Task StopAsync(Guid invitationId, string? actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var held = await db.Invitations.SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
                if (held is null)
                {
                    return;
                }
                var all = await db
                    .Invitations.Where(row => row.OrderId == held.OrderId && row.Recipient == held.Recipient)
                    .ToListAsync(cancel);
                all.ForEach(row => row.NoReminders = true);
                db.Note(
                    time,
                    actor ?? held.Recipient,
                    actor is null ? "wants no reminders" : "reminders stopped",
                    held.OrderId,
                    held.Recipient
                );
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    /// <summary>The same, asked for by whoever reads the address.</summary>
    public Task StopAsync(Guid invitationId, CancellationToken cancel = default) =>
        StopAsync(invitationId, null, cancel);

    /// <summary>The next reminder of a link, now. False when none may follow: answered, three sent, stopped, or the link is closed.</summary>
    public async Task<bool> HurryAsync(Guid invitationId, string actor, CancellationToken cancel = default)
    {
        var sent = await office.WriteAsync(db => HurryAsync(db, invitationId, actor, cancel), cancel);
        if (sent)
        {
            outbox.Ring();
        }
        return sent;
    }

    private async Task<bool> HurryAsync(OfficeDb db, Guid invitationId, string actor, CancellationToken cancel)
    {
        await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var link = await db.Invitations.SingleOrDefaultAsync(row => row.Id == invitationId, cancel);
        if (link is null or { NoReminders: true } or { Purpose: InvitationPurpose.Dispute })
        {
            return false;
        }
        var version = await db
            .ProofVersions.Include(row => row.Order)
            .SingleAsync(row => row.Id == link.VersionId, cancel);
        var past = await PastAsync(db, link, cancel);
        if (
            Invitations.GoneSince(link, now) is not null
            || version.Order!.State != OrderState.WaitingForThem
            || version.State is not (VersionState.Sent or VersionState.Decided)
            || (past?.Number ?? 0) >= Reminder.Most
            || await Seats.StandingAsync(db, version.Id, Seats.Of(link, forSample: false), cancel) is not null
        )
        {
            return false;
        }
        var shop = await db.ShopAsync(cancel);
        if (await outbox.QuotaAsync(db, shop, actor, 1, cancel) is not null)
        {
            return false;
        }
        Remind(db, version, link, shop, (past?.Number ?? 0) + 1, now, actor);
        await db.SaveChangesAsync(cancel);
        return true;
    }

    private static Task<Reminder?> PastAsync(OfficeDb db, Invitation link, CancellationToken cancel) =>
        db
            .Reminders.Where(row => row.VersionId == link.VersionId && row.InvitationId == link.Id)
            .OrderByDescending(row => row.Number)
            .FirstOrDefaultAsync(cancel);

    private async Task<int> RunAsync(OfficeDb db, CancellationToken cancel)
    {
        var shop = await db.ShopAsync(cancel);
        if (shop.RemindAfterDays == 0)
        {
            return 0;
        }
        await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var waiting = await db
            .ProofVersions.Include(row => row.Order)
            .Where(row =>
                row.SentAt != null
                && row.Order!.State == OrderState.WaitingForThem
                && (row.State == VersionState.Sent || row.State == VersionState.Decided)
                && !db.ProofVersions.Any(newer =>
                    newer.OrderId == row.OrderId && newer.Number > row.Number && newer.SentAt != null
                )
            )
            .ToListAsync(cancel);
        var sent = 0;
        foreach (var version in waiting)
        {
            var links = await db
                .Invitations.Where(row =>
                    row.VersionId == version.Id
                    && row.Purpose != InvitationPurpose.Dispute
                    && row.RevokedAt == null
                    && row.ExpiresAt > now
                    && !row.NoReminders
                )
                .ToListAsync(cancel);
            foreach (var link in links)
            {
                var past = await PastAsync(db, link, cancel);
                var answered = await Seats.StandingAsync(db, version.Id, Seats.Of(link, forSample: false), cancel);
                var due = ReminderTimes.Next(
                    past?.At ?? link.CreatedAt,
                    past?.Number ?? 0,
                    shop.RemindAfterDays,
                    version.Order!.ApproveByDate
                );
                if (answered is null && due <= now)
                {
                    Remind(db, version, link, shop, (past?.Number ?? 0) + 1, now, actor: "");
                    sent++;
                }
            }
        }
        await db.SaveChangesAsync(cancel);
        return sent;
    }

    private void Remind(
        OfficeDb db,
        ProofVersion version,
        Invitation link,
        ShopSettings shop,
        int number,
        DateTimeOffset now,
        string actor
    )
    {
        db.Reminders.Add(
            new Reminder
            {
                OrderId = link.OrderId,
                VersionId = version.Id,
                InvitationId = link.Id,
                Number = number,
                At = now,
            }
        );
        new MailedLink(outbox, shop, "reminder", actor).Add(
            db,
            digest => new Invitation
            {
                OrderId = link.OrderId,
                VersionId = version.Id,
                Purpose = link.Purpose,
                TokenSha256 = digest,
                Recipient = link.Recipient,
                RecipientName = link.RecipientName,
                Locale = link.Locale,
                CreatedAt = now,
                ExpiresAt = link.ExpiresAt,
                // Only the first link of a person is reminded of.
                NoReminders = true,
            },
            (_, address) =>
                Letters.Reminder(shop, version.Order!, version, link, number, address, $"{address}/reminders")
        );
        db.Note(
            time,
            actor.Length == 0 ? "server" : actor,
            "reminder mailed",
            link.OrderId,
            $"{number} of {Reminder.Most} to {link.Recipient}"
        );
    }
}
