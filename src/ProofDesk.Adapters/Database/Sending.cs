using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Database;

public sealed record LinkRecipient(string Email, string Name = "");

/// <param name="Note">the shop's own words above the link; plain text</param>
public sealed record SendRequest(
    Guid VersionId,
    IReadOnlyList<LinkRecipient> Recipients,
    string Note,
    string Actor,
    string Locale = "en"
);

public abstract record SendResult
{
    private SendResult() { }

    public sealed record Sent(IReadOnlyList<Guid> InvitationIds, IReadOnlyList<Guid> MailIds) : SendResult;

    /// <summary>Only a frozen version can be sent.</summary>
    public sealed record NotFrozen(VersionState State) : SendResult;

    public sealed record NewerVersionExists(int Number) : SendResult;

    /// <summary>Everything that is wrong with the recipients, at once.</summary>
    public sealed record Unusable(IReadOnlyList<string> Problems) : SendResult;

    public sealed record NotFound : SendResult;
}

/// <summary>Sends a frozen version: a link and a mail for each recipient, in one transaction. Older versions are superseded by it.</summary>
public sealed class Sending(Office office, OfficeSettings settings, Outbox outbox, TimeProvider time)
{
    public const string LetterKind = "invitation";
    private const int MostRecipients = 20;
    private const int MostNote = 4000;

    /// <summary>The letter as it will be stored, except for the link, which does not exist before it is sent.</summary>
    public async Task<Letter?> PreviewAsync(SendRequest request, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Order)
            .SingleOrDefaultAsync(row => row.Id == request.VersionId, cancel);
        if (version is null)
        {
            return null;
        }
        var shop = await db.ShopAsync(cancel);
        var to = request.Recipients.Count > 0 ? request.Recipients[0] : new LinkRecipient("");
        var link = $"{shop.PublicBaseUrl}/r/(the link of each recipient)";
        return Letters.Invitation(
            shop,
            version.Order!,
            version,
            to,
            request.Note,
            link,
            time.GetUtcNow().AddDays(settings.LinkDays)
        );
    }

    public async Task<SendResult> SendAsync(SendRequest request, CancellationToken cancel = default)
    {
        var problems = Problems(request);
        if (problems.Count > 0)
        {
            return new SendResult.Unusable(problems);
        }
        var result = await office.WriteAsync(db => SendAsync(db, request, cancel), cancel);
        Fault.Point("sending.after-commit");
        outbox.Ring();
        return result;
    }

    /// <summary>Calls a link back. It answers 410 from the next request on.</summary>
    public Task RevokeAsync(Guid invitationId, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var invitation = await db.Invitations.SingleAsync(row => row.Id == invitationId, cancel);
                invitation.RevokedAt ??= time.GetUtcNow();
                db.Note(time, actor, "link revoked", invitation.OrderId, invitation.Recipient);
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );

    private async Task<SendResult> SendAsync(OfficeDb db, SendRequest request, CancellationToken cancel)
    {
        // A decision and a newer version must not pass each other, so both take the log's lock.
        await db.LockLogHeadAsync(cancel);
        var version = await db
            .ProofVersions.Include(row => row.Order)
            .SingleOrDefaultAsync(row => row.Id == request.VersionId, cancel);
        if (version is null)
        {
            return new SendResult.NotFound();
        }
        if (version.State is not (VersionState.Frozen or VersionState.Sent))
        {
            return new SendResult.NotFrozen(version.State);
        }
        var newer = await db
            .ProofVersions.Where(row =>
                row.OrderId == version.OrderId && row.Number > version.Number && row.SentAt != null
            )
            .MaxAsync(row => (int?)row.Number, cancel);
        if (newer is { } number)
        {
            return new SendResult.NewerVersionExists(number);
        }
        var now = time.GetUtcNow();
        var shop = await db.ShopAsync(cancel);
        if (await outbox.QuotaAsync(db, shop, request.Actor, request.Recipients.Count, cancel) is { } quota)
        {
            return new SendResult.Unusable([quota]);
        }
        var sent = new List<(Guid Invitation, Guid Mail)>();
        foreach (var recipient in request.Recipients)
        {
            sent.Add(Invite(db, version, shop, recipient, InvitationPurpose.Review, request, now));
        }
        if (await SecondAsync(db, version, now, cancel) is { } second)
        {
            sent.Add(Invite(db, version, shop, second, InvitationPurpose.Second, request, now));
        }
        var isNew = version.SentAt is null;
        version.State = VersionState.Sent;
        version.SentAt ??= now;
        version.Order!.State = OrderState.WaitingForThem;
        if (version.Order.HeldSince is not null && isNew)
        {
            db.Note(
                time,
                request.Actor,
                SendUndo.HoldEnded,
                version.OrderId,
                new SendUndo.Hold(version.Order.HeldSince.Value, version.Order.HeldWhy).Line
            );
            (version.Order.HeldSince, version.Order.HeldWhy) = (null, "");
        }
        var older = await db
            .ProofVersions.Where(row =>
                row.OrderId == version.OrderId && row.Number < version.Number && row.State == VersionState.Sent
            )
            .ToListAsync(cancel);
        older.ForEach(row => row.State = VersionState.Superseded);
        db.Note(
            time,
            request.Actor,
            "version sent",
            version.OrderId,
            $"version {version.Number} to {string.Join(", ", request.Recipients.Select(to => to.Email))}"
        );
        await db.SaveChangesAsync(cancel);
        Fault.Point("sending.after-rows");
        return new SendResult.Sent([.. sent.Select(pair => pair.Invitation)], [.. sent.Select(pair => pair.Mail)]);
    }

    /// <summary>The second approver, once a version, unless their link of it is still open.</summary>
    private static async Task<LinkRecipient?> SecondAsync(
        OfficeDb db,
        ProofVersion version,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var whom = version.Order!.SecondApprover;
        var isInvited = await db.Invitations.AnyAsync(
            row =>
                row.VersionId == version.Id
                && row.Purpose == InvitationPurpose.Second
                && row.RevokedAt == null
                && row.ExpiresAt > now,
            cancel
        );
        return whom.Length == 0 || isInvited ? null : new LinkRecipient(whom);
    }

    private (Guid Invitation, Guid Mail) Invite(
        OfficeDb db,
        ProofVersion version,
        ShopSettings shop,
        LinkRecipient recipient,
        InvitationPurpose purpose,
        SendRequest request,
        DateTimeOffset now
    )
    {
        var (invitation, mail) = new MailedLink(outbox, shop, LetterKind, request.Actor)
        {
            Waits = TimeSpan.FromSeconds(settings.UndoSeconds),
        }.Add(
            db,
            digest => new Invitation
            {
                OrderId = version.OrderId,
                VersionId = version.Id,
                Purpose = purpose,
                TokenSha256 = digest,
                Recipient = recipient.Email,
                RecipientName = recipient.Name,
                Locale = request.Locale,
                CreatedAt = now,
                ExpiresAt = now.AddDays(settings.LinkDays),
            },
            (invited, link) =>
                Letters.Invitation(
                    shop,
                    version.Order!,
                    version,
                    recipient,
                    request.Note,
                    link,
                    invited.ExpiresAt,
                    purpose == InvitationPurpose.Second
                )
        );
        return (invitation.Id, mail);
    }

    private static List<string> Problems(SendRequest request)
    {
        var problems = new List<string>();
        if (request.Recipients.Count is 0 or > MostRecipients)
        {
            problems.Add($"{request.Recipients.Count} recipients given, 1 to {MostRecipients} are possible");
        }
        foreach (var recipient in request.Recipients)
        {
            if (MailAddresses.Problem(recipient.Email) is { } problem)
            {
                problems.Add(problem);
            }
            if (MailAddresses.HasControls(recipient.Name) || recipient.Name.Length > 200)
            {
                problems.Add($"the name beside {recipient.Email} has a line break or is longer than 200 characters");
            }
        }
        if (
            request.Recipients.Select(to => to.Email).Distinct(StringComparer.OrdinalIgnoreCase).Count()
            != request.Recipients.Count
        )
        {
            problems.Add("one address is there twice; each person gets one link");
        }
        if (request.Note.Length > MostNote)
        {
            problems.Add($"the note has {request.Note.Length} characters, at most {MostNote} go into the mail");
        }
        return problems;
    }
}
