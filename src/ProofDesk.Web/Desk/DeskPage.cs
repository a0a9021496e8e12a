using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Desk;

/// <summary>A group of the list: its heading and the sentence that teaches what lands there.</summary>
/// <param name="Key">in the address</param>
public sealed record Turn(OrderState State, string Key, string Title, string Teaches)
{
    public static ImmutableArray<Turn> All { get; } =
    [
        new(
            OrderState.WaitingForUs,
            "us",
            "Waiting for us",
            "New orders, finished renders and changes the client asked for land here."
        ),
        new(
            OrderState.WaitingForThem,
            "them",
            "Waiting for them",
            "A proof you have sent stays here until the client says yes or asks for changes."
        ),
        new(
            OrderState.ReadyToBurn,
            "burn",
            "Ready to burn",
            "Approved orders land here; only these give you full films."
        ),
        new(
            OrderState.Closed,
            "done",
            "Done",
            "An order whose pieces are counted is put away from its production page. It stays here to be found and ordered again."
        ),
    ];

    public static Turn Of(OrderState state) => All.First(turn => turn.State == state);

    public static Turn? Find(string? key) => All.FirstOrDefault(turn => turn.Key == key);
}

/// <summary>A group with the page of it that is shown.</summary>
public sealed record DeskPart(Turn Turn, ImmutableArray<DeskRow> Rows, int Count, int Page, int Pages);

/// <param name="Chosen">the one group that is looked at; null for all</param>
public sealed record DeskPage(DeskQuery Query, Turn? Chosen, ImmutableArray<DeskPart> Parts)
{
    /// <summary>Groups beside each other show no more than this; a group alone is turned page by page.</summary>
    public const int RowsBeside = 25;
    public const int RowsAlone = 50;

    public int Count => Parts.Sum(part => part.Count);
}

/// <summary>One order on the list: what it is, how near its date, and the next act as a verb.</summary>
/// <param name="IsPressing">ours to do, and due within a week or late: only these acts are filled buttons</param>
public sealed record DeskRow(OrderRow Order, string Nearness, string Standing, NextAct Act, bool IsPressing)
{
    private const int PressingDays = 7;

    public static DeskRow Of(OrderRow order, DateOnly today)
    {
        var days = order.InHandsDate?.DayNumber - today.DayNumber;
        var act = NextAct.Of(order);
        return new(
            order,
            order.State == OrderState.Closed ? "" : Words.Nearness(days),
            StandingOf(order) + (order.MailTrouble ? "; a letter was not delivered" : ""),
            act,
            act.IsOurs && order.State != OrderState.Closed && days <= PressingDays
        );
    }

    private static string StandingOf(OrderRow order) =>
        order switch
        {
            { HeldWhy: { } why } => $"held: {why.Replace("\n", "; ")}",
            { Newest: null, RepeatOfVersionId: not null } => "repeats an approved version",
            { Newest: null, AsksAboutBackground: true } => "no proof yet: the art has a background",
            { Newest: null } => "no proof yet",
            { Newest: { State: VersionState.Decided } v, State: OrderState.WaitingForThem } =>
                $"version {v.Number}: one has approved, another answer is missing",
            { Newest: { State: VersionState.Decided } v, State: OrderState.ReadyToBurn } =>
                $"version {v.Number} approved{Pressed(order)}",
            { Newest: { State: VersionState.Decided } v, State: OrderState.Closed } => $"version {v.Number} approved",
            { Newest: { State: VersionState.Decided } v } => $"changes asked for version {v.Number}",
            { Newest: { State: VersionState.Sent } v, State: OrderState.WaitingForUs } =>
                $"changed since version {v.Number} was sent",
            { Newest: { } v } => Words.Standing(v.State, v.Number),
        };

    private static string Pressed(OrderRow order) =>
        order.Happened.Contains(Approvals.Events.EventKind.Finished) ? ", pieces counted"
        : order.Happened.Contains(Approvals.Events.EventKind.PressChecked) ? ", first piece checked"
        : order.Happened.Contains(Approvals.Events.EventKind.FilmsExported) ? ", films taken"
        : "";
}
