using System.Buffers.Text;
using System.ComponentModel;
using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Api.Answers;

namespace ProofDesk.Web.Api.Orders;

/// <summary>Which orders, in the order of the desk: by in-hands date, those without one last.</summary>
public sealed class OrderQuery : PageQuery
{
    [Description("waiting-for-us, waiting-for-them, ready-to-burn or closed; all but closed when nothing is said.")]
    [FromQuery(Name = "state")]
    public string? State { get; set; }

    [Description("In hands on this day or later.")]
    [FromQuery(Name = "from")]
    public string? From { get; set; }

    [Description("In hands on this day or earlier.")]
    [FromQuery(Name = "to")]
    public string? To { get; set; }

    [Description(
        "Number of the order; a part of its title or of the client's name, in any case; the beginning of a digest of a version, of a file of it or of what was signed, from four digits on; or the line of a film's label."
    )]
    [FromQuery(Name = "find")]
    public string? Find { get; set; }

    /// <summary>What of it cannot be understood.</summary>
    internal IEnumerable<Mistake> Mistakes()
    {
        if (State is { Length: > 0 } && StateOf(State) is null)
            yield return Mistaken("state", State, "waiting-for-us, waiting-for-them, ready-to-burn or closed");
        foreach (var (name, day) in new[] { ("from", From), ("to", To) })
        {
            if (day is { Length: > 0 } && Day(day) is null)
                yield return Mistaken(name, day, "a day as 2026-12-01");
        }
        if (Cursor is { Length: > 0 } && Place(Cursor) is null)
            yield return Mistaken("cursor", Cursor, "the cursor of an address in next");
        if (WrongLimit() is { } wrong)
            yield return wrong;
    }

    internal IQueryable<Order> Narrowed(OfficeDb db)
    {
        var orders = new OrderWish(Find ?? "", Day(From), Day(To)).Among(db);
        orders = StateOf(State) is { } state
            ? orders.Where(o => o.State == state)
            : orders.Where(o => o.State != OrderState.Closed);
        if (Place(Cursor) is { } after)
            orders = After(orders, after.Day, after.Number);
        return orders
            .OrderBy(o => o.InHandsDate == null)
            .ThenBy(o => o.InHandsDate)
            .ThenBy(o => o.Number)
            .AsSplitQuery()
            .Include(o => o.Client)
            .Include(o => o.Lines)
                .ThenInclude(l => l.Counts)
            .Include(o => o.Versions);
    }

    /// <summary>The address of the page after the one that ends with <paramref name="last"/>.</summary>
    internal string NextAddress(string path, Order last)
    {
        var text = $"{last.InHandsDate:yyyy-MM-dd}|{last.Number}";
        var cursor = Base64Url.EncodeToString(Encoding.UTF8.GetBytes(text));
        return Address(
            path,
            ("state", State),
            ("from", From),
            ("to", To),
            ("find", Find),
            ("limit", Limit),
            ("cursor", cursor)
        );
    }

    private static IQueryable<Order> After(IQueryable<Order> orders, DateOnly? day, int number) =>
        day is { } on
            ? orders.Where(o =>
                o.InHandsDate == null || o.InHandsDate > on || (o.InHandsDate == on && o.Number > number)
            )
            : orders.Where(o => o.InHandsDate == null && o.Number > number);

    private static OrderState? StateOf(string? word) =>
        word switch
        {
            "waiting-for-us" => OrderState.WaitingForUs,
            "waiting-for-them" => OrderState.WaitingForThem,
            "ready-to-burn" => OrderState.ReadyToBurn,
            "closed" => OrderState.Closed,
            _ => null,
        };

    private static DateOnly? Day(string? text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : null;

    private static (DateOnly? Day, int Number)? Place(string? cursor)
    {
        if (string.IsNullOrEmpty(cursor) || cursor.Length > 40 || !Base64Url.IsValid(cursor))
            return null;
        var parts = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(cursor)).Split('|');
        if (parts.Length != 2 || !int.TryParse(parts[1], CultureInfo.InvariantCulture, out var number))
            return null;
        return parts[0].Length == 0 ? (null, number)
            : Day(parts[0]) is { } day ? (day, number)
            : null;
    }
}
