using System.Collections.Immutable;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Removes what names a person. The leaf of a decision is a digest over a salt that goes with the statement, so it stays and the log
/// goes on verifying; but no packet of that decision can be made any more. Copies outside the house (packets, receipts, backups)
/// are outside our reach.
/// </summary>
public sealed class PersonErasure(Office office, EventLog events, PickupFolder pickup, TimeProvider time)
{
    /// <param name="address">The mail address that was invited, whatever its case.</param>
    /// <param name="why">Goes into the log: say the reason, not the person.</param>
    public async Task<ErasedPerson> EraseAsync(
        string address,
        string actor,
        string why,
        CancellationToken cancel = default
    )
    {
        var done = await office.WriteAsync(
            async db =>
            {
                var spelled = await SpelledAsync(db, address.Trim(), cancel);
                var links = await db.Invitations.Where(row => spelled.Contains(row.Recipient)).ToListAsync(cancel);
                var linkIds = links.ConvertAll(row => (Guid?)row.Id);
                var decisions = await db
                    .Decisions.AsNoTracking()
                    .Where(row => spelled.Contains(row.Recipient) || linkIds.Contains(row.InvitationId))
                    .OrderBy(row => row.LeafIndex)
                    .ToListAsync(cancel);
                decisions.RemoveAll(row => row.IsErased);
                SealedLeaf? last = null;
                foreach (var decision in decisions)
                {
                    last = await EraseAsync(db, decision, actor, why, cancel);
                }
                foreach (var link in links)
                {
                    (link.Recipient, link.RecipientName) = ("", "");
                    link.RevokedAt ??= time.GetUtcNow();
                }
                var mails = await db.OutboxMails.Where(row => spelled.Contains(row.Recipient)).ToListAsync(cancel);
                mails.ForEach(Empty);
                await db.SaveChangesAsync(cancel);
                var clients = await db
                    .Clients.Where(row => spelled.Contains(row.Email))
                    .Select(row => row.Name)
                    .ToListAsync(cancel);
                return (
                    Decisions: decisions.ConvertAll(row => row.LeafIndex),
                    Links: links.Count,
                    Mails: mails.ConvertAll(mail => mail.Id),
                    Clients: clients,
                    Last: last
                );
            },
            cancel
        );
        if (done.Last is not null)
        {
            await events.PublishAsync(done.Last, cancel);
        }
        done.Mails.ForEach(id => File.Delete(pickup.PathOf(id)));
        return new([.. done.Decisions], done.Links, done.Mails.Count, [.. done.Clients]);
    }

    private async Task<SealedLeaf> EraseAsync(
        OfficeDb db,
        Decision decision,
        string actor,
        string why,
        CancellationToken cancel
    )
    {
        var facts = ImmutableSortedDictionary<string, string>
            .Empty.WithComparers(StringComparer.Ordinal)
            .Add("entry", decision.LeafIndex.ToString(CultureInfo.InvariantCulture))
            .Add("statement", "sha256:" + decision.StatementSha256)
            .Add("why", why);
        var manifest = Sha256Digest.TryParseHex(decision.ManifestSha256, out var digest) ? digest : (Sha256Digest?)null;
        var (_, leaf) = await events.AppendAsync(
            db,
            new Happening(
                EventKind.PersonalDataErased,
                actor,
                facts,
                decision.OrderId,
                decision.VersionId,
                manifest,
                decision.Id
            ),
            cancel
        );
        await db
            .Decisions.Where(row => row.Id == decision.Id)
            .ExecuteUpdateAsync(
                set =>
                    set.SetProperty(row => row.TypedName, "")
                        .SetProperty(row => row.Recipient, "")
                        .SetProperty(row => row.Comment, "")
                        .SetProperty(row => row.StatementBytes, Array.Empty<byte>()),
                cancel
            );
        return leaf;
    }

    /// <summary>How the address is spelled in the rows: capitals were kept as somebody typed them.</summary>
    private static async Task<List<string>> SpelledAsync(OfficeDb db, string address, CancellationToken cancel)
    {
        var all = db
            .Invitations.Select(row => row.Recipient)
            .Union(db.OutboxMails.Select(row => row.Recipient))
            .Union(db.Decisions.Select(row => row.Recipient))
            .Union(db.Clients.Select(row => row.Email));
        return
        [
            .. (await all.ToListAsync(cancel)).Where(one => one.Equals(address, StringComparison.OrdinalIgnoreCase)),
        ];
    }

    // A mail that still waits is not sent any more: it has neither address nor text.
    private static void Empty(OutboxMail mail)
    {
        if (mail.State is not MailState.Sent)
        {
            mail.State = MailState.Bounced;
        }
        (mail.Recipient, mail.Subject, mail.SealedMime, mail.LastReply) = ("", "erased", null, "erased");
    }
}

/// <param name="Decisions">Entries of the log whose statement is gone.</param>
/// <param name="Links">Invitations emptied and called back.</param>
/// <param name="Mails">Mails emptied.</param>
/// <param name="Clients">Clients of the shop whose record has that address; left alone.</param>
public sealed record ErasedPerson(ImmutableArray<long> Decisions, int Links, int Mails, ImmutableArray<string> Clients)
{
    public bool Nothing => Decisions.IsEmpty && Links == 0 && Mails == 0;
}
