using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Operations;

namespace ProofDesk.Adapters.Mail;

/// <summary>
/// Claims one due mail, tries it, writes down how it ended. A crash between the server's yes and our mark sends the same bytes once
/// more: SMTP cannot do better (RFC 1047). The pickup folder can, see <see cref="PickupFolder"/>.
/// </summary>
internal sealed class OutboxRunner(
    Office office,
    OfficeSettings settings,
    Sealing sealing,
    PickupFolder pickup,
    TimeProvider time
)
{
    /// <summary>Longer than the ten minutes a server may take for the final dot.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromMinutes(12);

    private readonly MailServer _server = new(settings.Mail);

    /// <summary>False when nothing is due.</summary>
    public async Task<bool> RunOneAsync(string owner, CancellationToken cancel)
    {
        var mail = await ClaimAsync(owner, cancel);
        if (mail is null)
        {
            return false;
        }
        Fault.Point("outbox.after-claim");
        var delivery = await TryAsync(mail, cancel);
        Fault.Point("outbox.after-delivery");
        Measures.MailTried.Add(1, new KeyValuePair<string, object?>("outcome", delivery.GetType().Name));
        await office.WriteAsync(db => RecordAsync(db, mail, delivery), CancellationToken.None);
        Fault.Point("outbox.after-mark");
        return true;
    }

    /// <summary>Settings are read at the start only, so a start is when paused mails deserve another try.</summary>
    public Task ResumeAsync(CancellationToken cancel) =>
        office.WriteAsync(
            db =>
                db.OutboxMails.Where(row => row.State == MailState.Paused)
                    .ExecuteUpdateAsync(
                        set =>
                            set.SetProperty(row => row.State, MailState.Waiting)
                                .SetProperty(row => row.NextAttemptAt, time.GetUtcNow()),
                        cancel
                    ),
            cancel
        );

    private async Task<OutboxMail?> ClaimAsync(string owner, CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        await using (var peek = office.Open())
        {
            if (!await peek.OutboxMails.AnyAsync(RowLocks.MailIsDue(now), cancel))
            {
                return null;
            }
        }
        return await office.WriteAsync(
            async db =>
            {
                var mail = await db.LockDueMailAsync(now, cancel);
                if (mail is not null)
                {
                    mail.State = MailState.Sending;
                    mail.Attempts++;
                    mail.Run++;
                    mail.LeaseOwner = owner;
                    mail.LeaseUntil = now + Lease;
                    await db.SaveChangesAsync(cancel);
                }
                return mail;
            },
            cancel
        );
    }

    private async Task<Delivery> TryAsync(OutboxMail mail, CancellationToken cancel)
    {
        try
        {
            var mime = sealing.Open(mail.SealedMime!);
            if (!settings.Mail.UsesPickup)
            {
                return await _server.SendAsync(mail.Id, mime, cancel);
            }
            await pickup.PutAsync(mail.Id, mime, cancel);
            return new Delivery.Accepted("written to the pickup folder");
        }
        catch (OperationCanceledException)
        {
            return new Delivery.Later("the server was stopped while sending");
        }
        catch (System.Security.Cryptography.CryptographicException)
        {
            return new Delivery.Refused(
                "the stored mail cannot be opened: the data protection keys are not those it was sealed with; send it again"
            );
        }
        catch (Exception failure)
        {
            return new Delivery.Later(failure.Message);
        }
    }

    private async Task RecordAsync(OfficeDb db, OutboxMail claimed, Delivery delivery)
    {
        var now = time.GetUtcNow();
        var mail = await db.OutboxMails.SingleOrDefaultAsync(row =>
            row.Id == claimed.Id && row.Run == claimed.Run && row.State == MailState.Sending
        );
        if (mail is null)
        {
            return; // Somebody else took it over; theirs is the newer answer.
        }
        mail.LeaseUntil = null;
        mail.LastReply = delivery.Reply;
        switch (delivery)
        {
            case Delivery.Accepted:
                mail.State = MailState.Sent;
                mail.SentAt = now;
                mail.SealedMime = null;
                break;
            case Delivery.Refused:
                mail.State = MailState.Bounced;
                break;
            case Delivery.Misconfigured:
                mail.Attempts--;
                mail.State = MailState.Paused;
                await db
                    .OutboxMails.Where(row => row.State == MailState.Waiting && row.Id != mail.Id)
                    .ExecuteUpdateAsync(set =>
                        set.SetProperty(row => row.State, MailState.Paused)
                            .SetProperty(row => row.LastReply, delivery.Reply)
                    );
                break;
            default:
                var tooLate = now - mail.CreatedAt >= RetrySchedule.GiveUpAfter;
                mail.State =
                    tooLate ? MailState.Bounced
                    : delivery is Delivery.Uncertain ? MailState.Uncertain
                    : MailState.Waiting;
                mail.NextAttemptAt = now + RetrySchedule.Wait(mail.Attempts, (mail.Id.GetHashCode() & 0xff) / 256.0);
                break;
        }
        await db.SaveChangesAsync();
    }
}
