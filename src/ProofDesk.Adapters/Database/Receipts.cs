using System.Text;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// The letters of a decision: one to whoever was invited, one to the shop. The first carries a link of its own for "this was not
/// me": whoever really reads the mailbox can stop production without having the link that decided.
/// </summary>
public sealed class Receipts(OfficeSettings settings, LogKeeper log, Outbox outbox)
{
    internal async Task AddAsync(
        OfficeDb db,
        Decision decision,
        ProofVersion version,
        Invitation? invitation,
        SealedLeaf leaf,
        CancellationToken cancel
    )
    {
        var shop = await db.ShopAsync(cancel);
        Attachment[] proof =
        [
            new(
                $"decision-{version.Order!.Number}-{version.Number}.tlog-proof",
                "text/plain",
                Encoding.UTF8.GetBytes(leaf.TlogProof)
            ),
        ];
        var key = log.VerifierKey;
        var link = DisputeLink(db, decision, invitation, shop);
        outbox.Add(
            db,
            New("receipt", decision.Recipient, decision),
            Letters.Receipt(shop, version.Order, version, decision, leaf, key, link),
            shop,
            proof
        );
        if (MailAddresses.Problem(shop.ReplyTo) is null)
        {
            outbox.Add(
                db,
                New("shop-receipt", shop.ReplyTo, decision),
                Letters.ShopReceipt(shop, version.Order, version, decision, leaf, key),
                shop,
                proof
            );
        }
    }

    private string DisputeLink(OfficeDb db, Decision decision, Invitation? invitation, ShopSettings shop)
    {
        var token = LinkToken.New();
        db.Invitations.Add(
            new Invitation
            {
                OrderId = decision.OrderId,
                VersionId = decision.VersionId,
                Purpose = InvitationPurpose.Dispute,
                TokenSha256 = LinkToken.DigestOf(token),
                Recipient = decision.Recipient,
                RecipientName = invitation?.RecipientName ?? "",
                Locale = invitation?.Locale ?? "en",
                CreatedAt = decision.At,
                ExpiresAt = decision.At.AddDays(settings.LinkDays),
                DecisionId = decision.Id,
            }
        );
        return $"{shop.PublicBaseUrl}/r/{token}";
    }

    internal static OutboxMail New(string kind, string recipient, Decision decision) =>
        new()
        {
            OrderId = decision.OrderId,
            VersionId = decision.VersionId,
            DecisionId = decision.Id,
            Kind = kind,
            Recipient = recipient,
            Subject = "",
        };
}
