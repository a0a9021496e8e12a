using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Desk;

/// <summary>A group of the desk: its heading and the sentence that teaches what lands there.</summary>
public sealed record Turn(OrderState State, string Title, string Teaches);

public sealed record DeskPage(ImmutableArray<DeskRow> Rows)
{
    public static ImmutableArray<Turn> Turns { get; } =
    [
        new(
            OrderState.WaitingForUs,
            "Waiting for us",
            "New orders, finished renders and changes the client asked for land here."
        ),
        new(
            OrderState.WaitingForThem,
            "Waiting for them",
            "A proof you have sent stays here until the client says yes or asks for changes."
        ),
        new(OrderState.ReadyToBurn, "Ready to burn", "Approved orders land here; only these give you full films."),
    ];

    public IEnumerable<DeskRow> Of(Turn turn) => Rows.Where(r => r.State == turn.State);
}

/// <summary>One order on the desk: what it is, how near its date, and the next act as a verb.</summary>
public sealed record DeskRow(
    OrderState State,
    Guid OrderId,
    int Number,
    string Title,
    string Client,
    int Pieces,
    DateOnly? InHands,
    string Nearness,
    bool IsPressing,
    string Standing,
    NextAct Act
)
{
    public static DeskRow Of(Order order, DateOnly today)
    {
        var latest = order.Versions.MaxBy(v => v.Number);
        var days = order.InHandsDate?.DayNumber - today.DayNumber;
        return new(
            order.State,
            order.Id,
            order.Number,
            order.Title,
            order.Client?.Name ?? "",
            order.Lines.Sum(l => l.Counts.Sum(c => c.Count)),
            order.InHandsDate,
            Words.Nearness(days),
            days is <= 7,
            order.HeldSince is null ? StandingOf(order, latest) : $"held: {order.HeldWhy.Replace("\n", "; ")}",
            NextAct.Of(order, latest)
        );
    }

    private static string StandingOf(Order order, ProofVersion? latest) =>
        latest is null && order.RepeatOfVersionId is not null ? "repeats an approved version" : Words.Standing(latest);
}

/// <summary>What to do now, as a verb and where.</summary>
/// <param name="Needs">whoever lacks it is shown the order instead</param>
public sealed record NextAct(string Verb, string Href, bool IsOurs, Right Needs)
{
    public NextAct For(PersonAtDesk person, Guid orderId) => person.May(Needs) ? this : Open(orderId);

    public static NextAct Of(Order order, ProofVersion? latest) =>
        latest?.State switch
        {
            null when order is { RepeatOfVersionId: { } repeated, State: OrderState.ReadyToBurn } => TakeFilms(
                repeated
            ),
            VersionState.Sent or VersionState.Decided when order.HeldSince is not null => new(
                "Settle what holds it",
                $"/orders/{order.Id}#held",
                true,
                Right.WriteAnswers
            ),
            null or VersionState.Draft => new("Make the proof", $"/orders/{order.Id}", true, Right.WorkOnArt),
            VersionState.Rendering => new("Watch the render", $"/orders/{order.Id}", true, Right.ReadOrders),
            VersionState.Failed => new("See what failed", $"/orders/{order.Id}", true, Right.ReadOrders),
            VersionState.Frozen => new("Send the proof", $"/versions/{latest.Id}/send", true, Right.Send),
            VersionState.Sent => new("See what was sent", $"/versions/{latest.Id}", false, Right.ReadOrders),
            VersionState.Decided when order.State == OrderState.ReadyToBurn => TakeFilms(latest.Id),
            VersionState.Decided => new("Read the changes", $"/orders/{order.Id}", true, Right.ReadOrders),
            _ => Open(order.Id),
        };

    private static NextAct TakeFilms(Guid versionId) =>
        new("Take the films", $"/versions/{versionId}/films", true, Right.TakeFilms);

    private static NextAct Open(Guid orderId) => new("Open the order", $"/orders/{orderId}", true, Right.ReadOrders);
}
