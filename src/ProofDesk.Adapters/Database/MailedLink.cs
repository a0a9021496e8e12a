using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Database;

/// <summary>A link of somebody's own and the letter that brings it: both rows, in the transaction of the caller.</summary>
/// <param name="Kind">Of the mail: "invitation", "reminder".</param>
/// <param name="CausedBy">Who of the staff sends it; empty when nobody of them does.</param>
internal sealed record MailedLink(Outbox Outbox, ShopSettings Shop, string Kind, string CausedBy = "")
{
    /// <summary>How long the letter lies before it leaves, so that it can be taken back.</summary>
    public TimeSpan Waits { get; init; }

    /// <param name="made">Whom it is for and how long it lives, given the digest of the token: the token itself is not kept.</param>
    /// <param name="letter">Writes the letter around the link.</param>
    public (Invitation Invitation, Guid Mail) Add(
        OfficeDb db,
        Func<byte[], Invitation> made,
        Func<Invitation, string, Letter> letter
    )
    {
        var token = LinkToken.New();
        var invitation = made(LinkToken.DigestOf(token));
        db.Invitations.Add(invitation);
        var mail = new OutboxMail
        {
            OrderId = invitation.OrderId,
            VersionId = invitation.VersionId,
            InvitationId = invitation.Id,
            Kind = Kind,
            Recipient = invitation.Recipient,
            Subject = "",
            CausedBy = CausedBy,
        };
        Outbox.Add(db, mail, letter(invitation, $"{Shop.PublicBaseUrl}/r/{token}"), Shop);
        mail.NextAttemptAt += Waits;
        return (invitation, mail.Id);
    }
}
