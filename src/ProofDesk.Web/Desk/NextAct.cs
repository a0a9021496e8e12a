using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Desk;

/// <summary>What to do now, as a verb and where.</summary>
/// <param name="Needs">whoever lacks it is shown the order instead</param>
public sealed record NextAct(string Verb, string Href, bool IsOurs, Right Needs)
{
    public NextAct For(PersonAtDesk person, Guid orderId) => person.May(Needs) ? this : Open(orderId);

    /// <summary>For the order's own page, which lists what production wrote down itself.</summary>
    public static NextAct Of(Order order, ProofVersion? latest) =>
        Of(
            new(
                order.Id,
                order.Number,
                order.Title,
                order.Client?.Name ?? "",
                0,
                order.InHandsDate,
                order.State,
                order.HeldSince is null ? null : order.HeldWhy,
                order.RepeatOfVersionId,
                order.Prints.Exists(print => print.Background == ""),
                latest is null ? null : new(latest.Id, latest.Number, latest.State),
                null,
                new HashSet<EventKind>(),
                false
            )
        );

    public static NextAct Of(OrderRow order)
    {
        var page = $"/orders/{order.Id}";
        if (order.State == OrderState.Closed)
            return order.Newest is { State: VersionState.Decided } done
                ? new("Order it again", $"/versions/{done.Id}/reorder", false, Right.TakeOrders)
                : Open(order.Id);
        if (order.Newest is not { } newest)
            return order switch
            {
                { RepeatOfVersionId: { } repeated, State: OrderState.ReadyToBurn } => Press(repeated, order),
                { AsksAboutBackground: true } => new(
                    "Answer the background question",
                    page + "/background",
                    true,
                    Right.WorkOnArt
                ),
                _ => new("Make the proof", page, true, Right.WorkOnArt),
            };
        var version = $"/versions/{newest.Id}";
        return newest.State switch
        {
            VersionState.Sent or VersionState.Decided when order.HeldWhy is not null => new(
                "Settle what holds it",
                page + "#held",
                true,
                Right.WriteAnswers
            ),
            VersionState.Draft => new("Make the proof", page, true, Right.WorkOnArt),
            VersionState.Rendering => new($"Watch version {newest.Number} being made", page, true, Right.ReadOrders),
            VersionState.Failed => new($"See why version {newest.Number} failed", page, true, Right.ReadOrders),
            VersionState.Frozen => new($"Send version {newest.Number}", version + "/send", true, Right.Send),
            VersionState.Decided when order.State == OrderState.ReadyToBurn => Press(newest.Id, order),
            VersionState.Sent or VersionState.Decided when order.State == OrderState.WaitingForThem => new(
                $"Follow version {newest.Number}",
                version + "/tracking",
                false,
                Right.SeeClients
            ),
            VersionState.Decided => new(
                order.Asks is { } who ? $"Answer the changes of {who}" : "Read the changes",
                page,
                true,
                Right.ReadOrders
            ),
            VersionState.Sent => new($"Make version {newest.Number + 1}", page, true, Right.WorkOnArt),
            _ => Open(order.Id),
        };
    }

    /// <summary>What follows the client's yes, one step after the other.</summary>
    private static NextAct Press(Guid versionId, OrderRow order)
    {
        var production = $"/versions/{versionId}/production";
        return order.Happened switch
        {
            var done when done.Contains(EventKind.Finished) => new(
                "Put it away",
                $"{production}?order={order.Id}#away",
                true,
                Right.Produce
            ),
            var done when done.Contains(EventKind.PressChecked) => new(
                "Count the pieces",
                $"{production}?order={order.Id}#finished",
                true,
                Right.Produce
            ),
            var done when done.Contains(EventKind.FilmsExported) || done.Contains(EventKind.ReleasedUnapproved) => new(
                "Check the first good piece",
                $"{production}?order={order.Id}",
                true,
                Right.Produce
            ),
            _ => new("Burn screens", $"/versions/{versionId}/films", true, Right.TakeFilms),
        };
    }

    private static NextAct Open(Guid orderId) => new("Open the order", $"/orders/{orderId}", true, Right.ReadOrders);
}
