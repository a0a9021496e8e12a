using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Printing.Costs;

namespace ProofDesk.Web.Rates;

/// <summary>What the page of the rate card sends.</summary>
public sealed class RatesForm
{
    /// <summary>The version the page was made from; 0 while the shop has none.</summary>
    public int Seen { get; set; }

    /// <summary>As typed, by the name of the field.</summary>
    public Dictionary<string, string?> Numbers { get; set; } = [];

    /// <summary>Steps of the garments' price, one a line: "24: 95".</summary>
    public string? Breaks { get; set; }

    public static RatesForm Of(RateCard card, int seen) =>
        new()
        {
            Seen = seen,
            Numbers = RateField.All.ToDictionary(f => f.Name, f => (string?)Number(f.Of(card))),
            Breaks = string.Join('\n', card.GarmentBreaks.Select(b => $"{b.From}: {Number(100 * b.Share)}")),
        };

    /// <summary>The card it describes; what cannot be so stands in <paramref name="state"/> by field.</summary>
    public RateCard Card(ModelStateDictionary state)
    {
        var card = RateCard.CommonPractice with { Name = "the shop's own" };
        foreach (var field in RateField.All)
        {
            var typed = Numbers.GetValueOrDefault(field.Name)?.Trim() ?? "";
            if (!double.TryParse(typed, NumberStyles.Float, CultureInfo.InvariantCulture, out var value))
                state.AddModelError(
                    $"Numbers[{field.Name}]",
                    $"{field.Label}: write a number with a point, such as 4.5."
                );
            else if (field.Problem(value) is { } wrong)
                state.AddModelError($"Numbers[{field.Name}]", $"{field.Label}: {wrong}.");
            else
                card = field.With(card, value);
        }
        if (Steps(state) is { } steps)
            card = card with { GarmentBreaks = steps };
        return card;
    }

    private ImmutableArray<PriceBreak>? Steps(ModelStateDictionary state)
    {
        var steps = ImmutableArray.CreateBuilder<PriceBreak>();
        foreach (
            var line in (Breaks ?? "").Split(
                '\n',
                StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries
            )
        )
        {
            var parts = line.Split(':', StringSplitOptions.TrimEntries);
            if (
                parts.Length != 2
                || !int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var from)
                || !double.TryParse(parts[1], NumberStyles.Float, CultureInfo.InvariantCulture, out var percent)
            )
            {
                state.AddModelError(
                    nameof(Breaks),
                    $"Steps of the price: \"{line}\" is not understood. Write pieces, a colon and per cent of the price, such as 24: 95."
                );
                return null;
            }
            steps.Add(new(from, percent / 100));
        }
        var breaks = steps.ToImmutable();
        if (RateCardJson.Problem(breaks) is not { } wrong)
            return breaks;
        state.AddModelError(nameof(Breaks), $"Steps of the price: {wrong}.");
        return null;
    }

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}

/// <param name="History">Versions, the newest first; empty while the shop has none.</param>
public sealed record RatesPage(RatesForm Form, IReadOnlyList<ShopRateCard> History, string Currency);
