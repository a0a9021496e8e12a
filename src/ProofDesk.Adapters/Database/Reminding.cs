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
    public Task StopAsync(Guid invitationId, CancellationToken cancel = default) =>
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
                db.Note(time, held.Recipient, "wants no reminders", held.OrderId, held.Recipient);
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    private async Task<int> RunAsync(OfficeDb db, CancellationToken cancel)
    {
        var shop = await db.ShopAsync(cancel);
        if (shop.RemindAfterDays == 0)
        {
            return 0;
        }
        await db.LockLogHeadAsync(cancel);
        var now = time.GetUtcNow();
        var before = now.AddDays(-shop.RemindAfterDays);
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
                var past = await db
                    .Reminders.Where(row => row.VersionId == version.Id && row.InvitationId == link.Id)
                    .OrderByDescending(row => row.Number)
                    .FirstOrDefaultAsync(cancel);
                var answered = await Seats.StandingAsync(db, version.Id, Seats.Of(link, forSample: false), cancel);
                if (answered is null && (past?.At ?? link.CreatedAt) <= before && (past?.Number ?? 0) < Reminder.Most)
                {
                    Remind(db, version, link, shop, (past?.Number ?? 0) + 1, now);
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
        DateTimeOffset now
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
        new MailedLink(outbox, shop, "reminder").Add(
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
        db.Note(time, "server", "reminder mailed", link.OrderId, $"{number} of {Reminder.Most} to {link.Recipient}");
    }
}
