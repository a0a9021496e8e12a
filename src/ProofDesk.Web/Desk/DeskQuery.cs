using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Desk;

/// <summary>What the address of the list says.</summary>
public sealed class DeskQuery
{
    /// <summary>Order number, words, the start of a digest, or the line of a film's label.</summary>
    public string? Find { get; set; }

    /// <summary>In hands from this day on.</summary>
    public DateOnly? From { get; set; }
    public DateOnly? To { get; set; }

    /// <summary>"us", "them", "burn" or "done"; everything open when empty.</summary>
    public string? Turn { get; set; }
    public int Page { get; set; } = 1;

    public OrderWish Wish => new(Find?.Trim() ?? "", From, To);

    /// <summary>The same list at another turn or page.</summary>
    public string Address(string? turn, int page = 1)
    {
        var parts = new List<string>();
        if (Wish.Find.Length > 0)
            parts.Add($"find={Uri.EscapeDataString(Wish.Find)}");
        if (From is { } from)
            parts.Add(FormattableString.Invariant($"from={from:yyyy-MM-dd}"));
        if (To is { } to)
            parts.Add(FormattableString.Invariant($"to={to:yyyy-MM-dd}"));
        if (turn is not null)
            parts.Add($"turn={turn}");
        if (page > 1)
            parts.Add(FormattableString.Invariant($"page={page}"));
        return parts.Count == 0 ? "/desk" : "/desk?" + string.Join('&', parts);
    }
}
