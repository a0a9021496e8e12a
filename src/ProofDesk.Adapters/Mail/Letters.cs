using System.Globalization;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Mail;

/// <summary>The mails ProofDesk writes. The first hundred characters say what it is about and by when.</summary>
internal static class Letters
{
    public static Letter Invitation(
        ShopSettings shop,
        Order order,
        ProofVersion version,
        LinkRecipient to,
        string note,
        string link,
        DateTimeOffset ends,
        bool asSecond = false
    )
    {
        var by = order.ApproveByDate is { } date ? $": please look by {Day(date)}" : "";
        return new LetterMaker($"Proof for {order.Number} {order.Title}, version {version.Number}{by}", "en")
            .Say(to.Name.Length > 0 ? $"Hello {to.Name}," : "Hello,")
            .Say($"the proof for {order.Title} is ready: version {version.Number}, from {shop.Name}.")
            .SayIfAny(asSecond ? "Two people must say yes before it is printed; you are the second." : "")
            .SayIfAny(note)
            .Facts(
                ("Order", order.Number.ToString(CultureInfo.InvariantCulture)),
                ("Please answer by", order.ApproveByDate is { } approve ? Day(approve) : ""),
                ("In hands", order.InHandsDate is { } hands ? Day(hands) : "")
            )
            .Link("Look at the proof", link)
            .Say(
                "You will be asked for your name; nothing happens by just opening the link. "
                    + "You can approve the proof there or ask for changes."
            )
            .Say($"The link is for you alone and works until {Time(ends, shop)}.")
            .Say("If you did not expect this, ignore it or tell us.")
            .Say(Signature(shop))
            .Make();
    }

    public static Letter PassedOn(
        ShopSettings shop,
        Order order,
        ProofVersion version,
        LinkRecipient to,
        Invitation from,
        string link,
        DateTimeOffset ends
    ) =>
        new LetterMaker($"Proof for {order.Number} {order.Title}, version {version.Number}, passed on to you", "en")
            .Say(to.Name.Length > 0 ? $"Hello {to.Name}," : "Hello,")
            .Say(
                $"{(from.RecipientName.Length > 0 ? $"{from.RecipientName} ({from.Recipient})" : from.Recipient)} would like you to look at the proof for {order.Title}, version {version.Number}, from {shop.Name}."
            )
            .Link("Look at the proof", link)
            .Say("You will be asked for your name; nothing happens by just opening the link.")
            .Say($"The link is for you alone and works until {Time(ends, shop)}.")
            .Say("If you did not expect this, ignore it or tell us.")
            .Say(Signature(shop))
            .Make();

    public static Letter LinkWanted(ShopSettings shop, Order order, Invitation held) =>
        new LetterMaker($"A new link is wanted for {order.Number} {order.Title}", "en")
            .Say(
                $"Whoever holds the ended link of {held.Recipient} asks for a new one. Send it from the order's page if it is right."
            )
            .Link("Open the order", $"{shop.PublicBaseUrl}/orders/{order.Id}")
            .Make();

    public static Letter Reminder(
        ShopSettings shop,
        Order order,
        ProofVersion version,
        Invitation to,
        int number,
        string link,
        string stop
    )
    {
        var by = order.ApproveByDate is { } date ? $": please look by {Day(date)}" : "";
        return new LetterMaker(
            $"Still open: proof for {order.Number} {order.Title}, version {version.Number}{by}",
            "en"
        )
            .Say(to.RecipientName.Length > 0 ? $"Hello {to.RecipientName}," : "Hello,")
            .Say(
                $"we have no answer yet about {order.Title}, version {version.Number}. Nothing is printed before you have looked."
            )
            .Link("Look at the proof", link)
            .Say(
                $"This is reminder {number} of at most {Database.Reminder.Most}. The link works until {Time(to.ExpiresAt, shop)}."
            )
            .Link("Send me no more reminders about this order", stop)
            .Say(Signature(shop))
            .Make();
    }

    /// <summary>To the person whose account it is, who may not be the one that changed it.</summary>
    public static Letter AccountChanged(ShopSettings shop, StaffUser person, string what, DateTimeOffset at) =>
        new LetterMaker($"Your account at {shop.Name}: {what}", "en")
            .Say($"Hello {person.DisplayName},")
            .Say($"{what} on {Time(at, shop)}, for the account {person.Email}.")
            .Say(
                "If that was you, there is nothing to do. If not, tell the owner of the shop at once: they can end every session of the account."
            )
            .Link("Where you are signed in", $"{shop.PublicBaseUrl}/account")
            .Make();

    public static Letter Code(ShopSettings shop, Order order, ProofVersion version, string code, DateTimeOffset ends) =>
        new LetterMaker($"Code for your answer about {order.Number} {order.Title}, version {version.Number}", "en")
            .Say(
                $"Somebody who holds your link asked for the code that an answer about {order.Title} needs. The code is"
            )
            .Say(code)
            .Say(
                $"It works until {Time(ends, shop)}, for one answer. Type it on the page where you were asked for it; "
                    + "nobody of us will ever ask you for it."
            )
            .Say("If it was not you who asked, do nothing, and tell us.")
            .Say(Signature(shop))
            .Make();

    public static Letter Receipt(
        ShopSettings shop,
        Order order,
        ProofVersion version,
        Decision decision,
        SealedLeaf sealedLeaf,
        string verifierKey,
        string disputeLink
    )
    {
        var said = Said(decision);
        return new LetterMaker($"{said} version {version.Number} of {order.Number} {order.Title}", "en")
            .Say($"{said} version {version.Number} of {order.Title}. This is the receipt; please keep it.")
            .Facts(Facts(shop, order, version, decision, sealedLeaf))
            .SayIfAny(Wishes(decision))
            .Say("The sentences you confirmed:\n" + decision.StatementText.TrimEnd('\n'))
            .Say(
                "If you did not mean it, answer this mail or telephone us at once. If it was not you at all, say so here; production then stands still until we have talked:"
            )
            .Link("This was not me", disputeLink)
            .Say(Proof(sealedLeaf, verifierKey))
            .Say(Signature(shop))
            .Make();
    }

    public static Letter ShopReceipt(
        ShopSettings shop,
        Order order,
        ProofVersion version,
        Decision decision,
        SealedLeaf sealedLeaf,
        string verifierKey
    ) =>
        new LetterMaker($"{order.Number} {order.Title}, version {version.Number}: {Happened(decision)}", "en")
            .Say(
                $"{decision.TypedName} {Happened(decision)} (version {version.Number} of {order.Number} {order.Title})."
            )
            .Facts(Facts(shop, order, version, decision, sealedLeaf))
            .SayIfAny(Wishes(decision))
            .Link("Open the order", $"{shop.PublicBaseUrl}/orders/{order.Id}")
            .Say(Proof(sealedLeaf, verifierKey))
            .Make();

    public static Letter Disputed(
        ShopSettings shop,
        Order order,
        int version,
        Decision decision,
        string words,
        bool filmsLeft
    ) =>
        new LetterMaker($"STOP {order.Number} {order.Title}: \"this was not me\"", "en")
            .Say(
                $"Whoever reads {decision.Recipient} says that {decision.TypedName} was not they (version {version} of {order.Number} {order.Title}, {Happened(decision)} on {Time(decision.At, shop)})."
            )
            .SayIfAny(words.Length > 0 ? "In their words: " + words : "")
            .Say(
                filmsLeft
                    ? "Films of this version have left already: stop whoever has them."
                    : "Films do not leave until you have settled it."
            )
            .Link("Open the order", $"{shop.PublicBaseUrl}/orders/{order.Id}")
            .Make();

    public static Letter Flagged(ShopSettings shop, Order order, Decision decision, string signs) =>
        new LetterMaker($"Look at {order.Number} {order.Title}: the answer may be a machine's", "en")
            .Say($"{decision.TypedName} {Happened(decision)}, but {signs}.")
            .Say(
                "It is written down as it came. Films do not leave until one of you has looked and said so on the order's page; a telephone call settles it."
            )
            .Link("Open the order", $"{shop.PublicBaseUrl}/orders/{order.Id}")
            .Make();

    private static (string, string)[] Facts(
        ShopSettings shop,
        Order order,
        ProofVersion version,
        Decision decision,
        SealedLeaf leaf
    ) =>
        [
            ("Order", order.Number.ToString(CultureInfo.InvariantCulture)),
            ("Version", version.Number.ToString(CultureInfo.InvariantCulture)),
            ("Decision", Happened(decision)),
            ("Name", decision.TypedName),
            ("Invited as", decision.Recipient),
            ("Time", Time(decision.At, shop)),
            ("Evidence", Evidence(decision.EvidenceLevel)),
            ("Record", decision.Id.ToString()),
            ("Proof", Grouped(decision.ManifestSha256)),
            ("Statement", Grouped(decision.StatementSha256)),
            ("Place in the log", leaf.Index.ToString(CultureInfo.InvariantCulture)),
        ];

    private static string Proof(SealedLeaf leaf, string verifierKey) =>
        $"The log's head at that moment, signed:\n{leaf.CheckpointNote.TrimEnd('\n')}\nThe key that signed it: {verifierKey}\n"
        + "The attached .tlog-proof shows that this decision is in the log.";

    private static string Wishes(Decision decision)
    {
        var statement = StatementJson.Parse(decision.StatementBytes);
        var lines = statement.Changes.Select(change => $"- {change.Thing}: {change.Words}").ToList();
        if (!string.IsNullOrWhiteSpace(statement.Comment))
        {
            lines.Add(statement.Comment);
        }
        return string.Join('\n', lines);
    }

    private static string Said(Decision decision) =>
        decision.Kind switch
        {
            DecisionKind.Approve => "You approved",
            DecisionKind.Changes => "You asked for changes to",
            _ => "You took back your decision on",
        };

    private static string Happened(Decision decision) =>
        decision.Kind switch
        {
            DecisionKind.Approve => "approved",
            DecisionKind.Changes => "asked for changes",
            _ => "took the decision back",
        };

    private static string Evidence(EvidenceLevel level) =>
        level switch
        {
            EvidenceLevel.Link => "E0, the mailed link",
            EvidenceLevel.Code => "E1, the mailed link and a mailed code",
            _ => "S0, given elsewhere and written down by the shop",
        };

    private static string Grouped(string hex) => string.Join(' ', hex.Chunk(4).Select(four => new string(four)));

    /// <summary>To somebody who shall work in the shop; the link makes the account.</summary>
    public static Letter StaffInvited(ShopSettings shop, StaffInvitation invited, string roleMeans, string link) =>
        new LetterMaker($"Your account at {shop.Name}", "en")
            .Say($"Hello {invited.Name},")
            .Say($"{invited.InvitedBy} invites you to the proof desk of {shop.Name}.")
            .Facts(("What you can do there", roleMeans))
            .Link("Choose a name and a password", link)
            .Say($"The link works once and until {Time(invited.ExpiresAt, shop)}. Just opening it changes nothing.")
            .Say("It is for you alone: whoever has it can take your place. If you did not expect this, ignore it.")
            .Say(Signature(shop))
            .Make();

    private static string Day(DateOnly date) => date.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    private static string Time(DateTimeOffset time, ShopSettings shop)
    {
        var zone = TimeZoneInfo.TryFindSystemTimeZoneById(shop.TimeZone, out var found) ? found : TimeZoneInfo.Utc;
        var local = TimeZoneInfo.ConvertTime(time, zone);
        return $"{local.ToString("d MMMM yyyy HH:mm", CultureInfo.InvariantCulture)} ({zone.Id})";
    }

    private static string Signature(ShopSettings shop) =>
        string.Join('\n', new[] { shop.Name, shop.Address, shop.Phone }.Where(line => line.Length > 0));
}
