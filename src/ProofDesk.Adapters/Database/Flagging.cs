using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>Writes down that an answer looks like a machine's, holds production and asks the shop to look. It refuses nothing.</summary>
public sealed class Flagging(EventLog events, Outbox outbox)
{
    private static readonly TimeSpan Soon = TimeSpan.FromMinutes(1);

    /// <summary>In the decision's transaction; gives the note to publish after the commit.</summary>
    internal async Task<string> FlagAsync(
        OfficeDb db,
        Decision decision,
        Order order,
        IReadOnlyList<string> signs,
        CancellationToken cancel
    )
    {
        var (_, leaf) = await events.AppendAsync(
            db,
            new Happening(
                EventKind.Flagged,
                "server",
                ImmutableSortedDictionary
                    .Create<string, string>(StringComparer.Ordinal)
                    .Add("decision", decision.Id.ToString())
                    .Add("evidence", StatementJson.Word(decision.EvidenceLevel))
                    .Add("signs", string.Join(' ', signs)),
                decision.OrderId,
                decision.VersionId,
                Sha256Digest.TryParseHex(decision.ManifestSha256, out var manifest) ? manifest : null,
                decision.Id
            ),
            cancel
        );
        var words = RobotSigns.Say(signs);
        // Names nobody: the reason outlives an erasure and goes into the log when the hold ends.
        order.Hold(decision.At, $"the answer looks like a machine's: {words}");
        var shop = await db.ShopAsync(cancel);
        if (MailAddresses.Problem(shop.ReplyTo) is null)
        {
            outbox.Add(
                db,
                Receipts.New("flagged", shop.ReplyTo, decision),
                Letters.Flagged(shop, order, decision, words),
                shop
            );
        }
        await db.SaveChangesAsync(cancel);
        return leaf.CheckpointNote;
    }

    /// <summary>A link that gives one answer and, within a minute, the other as well is read by something that presses every button.</summary>
    internal async Task<IReadOnlyList<string>> BothAnswersAsync(
        OfficeDb db,
        Decision held,
        DecisionStatement said,
        Invitation invitation,
        Order order,
        CancellationToken cancel
    )
    {
        var isBoth =
            held.InvitationId == invitation.Id
            && held.Kind != said.Kind
            && said.Kind != DecisionKind.Withdraw
            && said.At - held.At < Soon;
        if (!isBoth)
        {
            return [];
        }
        var known = await db
            .LoggedEvents.Where(row => row.SubjectId == held.Id && row.Kind == EventKind.Flagged)
            .Select(row => row.EventBytes)
            .ToListAsync(cancel);
        return known.Exists(bytes =>
            EventJson.Parse(bytes).Facts["signs"].Contains(RobotSigns.BothAnswers, StringComparison.Ordinal)
        )
            ? []
            : [await FlagAsync(db, held, order, [RobotSigns.BothAnswers], cancel)];
    }
}

internal static class Holding
{
    /// <summary>The first reason stays first; a further one is added.</summary>
    public static void Hold(this Order order, DateTimeOffset at, string why)
    {
        order.HeldSince ??= at;
        order.HeldWhy = order.HeldWhy.Length == 0 ? why : $"{order.HeldWhy}\n{why}";
    }
}
