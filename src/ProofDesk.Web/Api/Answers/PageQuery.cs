using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;

namespace ProofDesk.Web.Api.Answers;

/// <summary>Which part of a long list is asked for.</summary>
public abstract class PageQuery
{
    public const int Most = 200;
    private const int Usual = 50;

    [Description("Where the page before ended: take the address in its field next.")]
    [FromQuery(Name = "cursor")]
    public string? Cursor { get; set; }

    [Description("Rows on a page, 1 to 200; 50 when nothing is said.")]
    [FromQuery(Name = "limit")]
    public string? Limit { get; set; }

    internal int Rows => int.TryParse(Limit, out var limit) ? limit : Usual;

    private protected Mistake? WrongLimit() =>
        Limit is { Length: > 0 } && !(int.TryParse(Limit, out var limit) && limit is >= 1 and <= Most)
            ? Mistaken("limit", Limit, $"1 to {Most}")
            : null;

    /// <summary>An address with what of its query is said.</summary>
    private protected static string Address(string path, params ReadOnlySpan<(string Name, string? Value)> query)
    {
        var said = new List<string>();
        foreach (var (name, value) in query)
        {
            if (!string.IsNullOrEmpty(value))
                said.Add($"{name}={Uri.EscapeDataString(value)}");
        }
        return $"{path}?{string.Join('&', said)}";
    }

    private protected static Mistake Mistaken(string name, string given, string limit) =>
        new(
            $"{name}-not-understood",
            "/" + name,
            $"{name} is \"{given}\", possible is {limit}.",
            given,
            limit,
            $"Send {name} as {limit}, or leave it out."
        );
}
