using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

/// <summary>The newest version of an order, as the list needs it.</summary>
public sealed record NewestVersion(Guid Id, int Number, VersionState State);

/// <summary>One line of the list with all that decides what is to be done next.</summary>
/// <param name="AsksAboutBackground">nobody has said what happens to the background of the art</param>
/// <param name="Asks">who asked for changes to the newest version; null when nobody did</param>
/// <param name="Happened">what production wrote down about the newest version, or about the repeated one since this order was made</param>
/// <param name="MailTrouble">a letter of this order was refused, is paused or its fate is not known</param>
public sealed record OrderRow(
    Guid Id,
    int Number,
    string Title,
    string Client,
    int Pieces,
    DateOnly? InHandsDate,
    OrderState State,
    string? HeldWhy,
    Guid? RepeatOfVersionId,
    bool AsksAboutBackground,
    NewestVersion? Newest,
    string? Asks,
    IReadOnlySet<EventKind> Happened,
    bool MailTrouble
);

/// <summary>A page of the orders of one state.</summary>
/// <param name="Count">how many there are on all pages</param>
public sealed record OrderPart(OrderState State, IReadOnlyList<OrderRow> Rows, int Count, int Page, int Pages);

/// <summary>The shop's one list. However many orders there are, it takes one command a state and five for all of them.</summary>
public sealed class OrderList(Office office)
{
    /// <summary>Those of each state by in-hands date, those without a date last; of finished orders the latest date first.</summary>
    public async Task<IReadOnlyList<OrderPart>> FindAsync(
        OrderWish wish,
        IReadOnlyList<OrderState> states,
        int page,
        int most,
        CancellationToken cancel = default
    )
    {
        await using var db = office.Open();
        var wanted = wish.Among(db);
        var counts = await wanted
            .GroupBy(row => row.State)
            .Select(group => new { State = group.Key, Count = group.Count() })
            .ToDictionaryAsync(group => group.State, group => group.Count, cancel);
        var parts = new List<(OrderState State, int Page, List<Bare> Rows)>();
        foreach (var state in states)
        {
            var pages = Pages(counts.GetValueOrDefault(state), most);
            var at = Math.Clamp(page, 1, pages);
            parts.Add(
                counts.GetValueOrDefault(state) == 0
                    ? (state, 1, [])
                    : (state, at, await RowsAsync(db, wanted, state, at, most, cancel))
            );
        }
        var all = await WholeAsync(db, [.. parts.SelectMany(part => part.Rows)], cancel);
        return
        [
            .. parts.Select(part => new OrderPart(
                part.State,
                [.. part.Rows.Select(row => all[row.Id])],
                counts.GetValueOrDefault(part.State),
                part.Page,
                Pages(counts.GetValueOrDefault(part.State), most)
            )),
        ];
    }

    private static int Pages(int count, int most) => Math.Max(1, (count + most - 1) / most);

    private static async Task<List<Bare>> RowsAsync(
        OfficeDb db,
        IQueryable<Order> wanted,
        OrderState state,
        int page,
        int most,
        CancellationToken cancel
    )
    {
        var ofState = wanted.Where(row => row.State == state);
        var inOrder =
            state == OrderState.Closed
                ? ofState.OrderBy(row => row.InHandsDate == null).ThenByDescending(row => row.InHandsDate)
                : ofState.OrderBy(row => row.InHandsDate == null).ThenBy(row => row.InHandsDate);
        return await inOrder
            .ThenBy(row => row.Number)
            .Skip((page - 1) * most)
            .Take(most)
            .Select(row => new Bare(
                row.Id,
                row.Number,
                row.Title,
                row.Client!.Name,
                db.OrderLines.Where(line => line.OrderId == row.Id).SelectMany(line => line.Counts).Sum(c => c.Count),
                row.InHandsDate,
                row.State,
                row.HeldSince,
                row.HeldWhy,
                row.RepeatOfVersionId,
                row.Prints.Any(print => print.Background == ""),
                row.CreatedAt
            ))
            .ToListAsync(cancel);
    }

    private static async Task<Dictionary<Guid, OrderRow>> WholeAsync(
        OfficeDb db,
        List<Bare> rows,
        CancellationToken cancel
    )
    {
        if (rows.Count == 0)
        {
            return [];
        }
        var ids = rows.ConvertAll(row => row.Id);
        var versions = await db
            .ProofVersions.AsNoTracking()
            .Where(version => ids.Contains(version.OrderId))
            .Select(version => new
            {
                version.OrderId,
                version.Id,
                version.Number,
                version.State,
            })
            .ToListAsync(cancel);
        var newest = versions
            .GroupBy(version => version.OrderId)
            .ToDictionary(
                group => group.Key,
                group =>
                    group.MaxBy(version => version.Number) is { } v ? new NewestVersion(v.Id, v.Number, v.State) : null
            );
        var shown = rows.Select(row => newest.GetValueOrDefault(row.Id)?.Id ?? row.RepeatOfVersionId)
            .OfType<Guid>()
            .ToList();
        var asked = await db
            .DecisionSlots.AsNoTracking()
            .Where(slot => shown.Contains(slot.VersionId) && slot.Decision!.Kind == DecisionKind.Changes)
            .Select(slot => new { slot.VersionId, slot.Decision })
            .ToDictionaryAsync(slot => slot.VersionId, slot => KeptStatement.NameOf(slot.Decision!), cancel);
        var happened = await db
            .LoggedEvents.AsNoTracking()
            .Where(row => row.VersionId != null && shown.Contains(row.VersionId.Value))
            .Select(row => new
            {
                row.VersionId,
                row.Kind,
                row.At,
            })
            .ToListAsync(cancel);
        var troubled = await db
            .OutboxMails.AsNoTracking()
            .Where(mail =>
                mail.OrderId != null
                && ids.Contains(mail.OrderId.Value)
                && (
                    mail.State == MailState.Bounced
                    || mail.State == MailState.Paused
                    || mail.State == MailState.Uncertain
                )
            )
            .Select(mail => mail.OrderId)
            .Distinct()
            .ToListAsync(cancel);
        return rows.ToDictionary(
            row => row.Id,
            row =>
            {
                var version = newest.GetValueOrDefault(row.Id);
                var about = version?.Id ?? row.RepeatOfVersionId;
                return new OrderRow(
                    row.Id,
                    row.Number,
                    row.Title,
                    row.Client,
                    row.Pieces,
                    row.InHandsDate,
                    row.State,
                    row.HeldSince is null ? null : row.HeldWhy,
                    row.RepeatOfVersionId,
                    row.AsksAboutBackground,
                    version,
                    version is null ? null : asked.GetValueOrDefault(version.Id),
                    happened
                        .Where(one => one.VersionId == about && one.At >= row.CreatedAt)
                        .Select(one => one.Kind)
                        .ToHashSet(),
                    troubled.Contains(row.Id)
                );
            }
        );
    }

    private sealed record Bare(
        Guid Id,
        int Number,
        string Title,
        string Client,
        int Pieces,
        DateOnly? InHandsDate,
        OrderState State,
        DateTimeOffset? HeldSince,
        string HeldWhy,
        Guid? RepeatOfVersionId,
        bool AsksAboutBackground,
        DateTimeOffset CreatedAt
    );
}
