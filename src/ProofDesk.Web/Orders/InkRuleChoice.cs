using System.Collections.Immutable;
using System.Text.Json.Serialization;
using ProofDesk.Web.Inks;

namespace ProofDesk.Web.Orders;

/// <summary>Inks an order fixes, rules out and moves, by the names orders use: "red", "own-harbour-red", in a request "own-harbour-red@3".</summary>
public sealed record InkRuleChoice(
    ImmutableArray<string> Must,
    ImmutableArray<string> Never,
    ImmutableArray<string> Order
)
{
    [JsonIgnore]
    public bool IsEmpty => Must.IsEmpty && Never.IsEmpty && Order.IsEmpty;

    /// <summary>What the form's rows say; null when they say nothing.</summary>
    public static InkRuleChoice? Of(IEnumerable<InkRuleForm> rows)
    {
        var said = rows.ToList();
        var rules = new InkRuleChoice(
            [.. said.Where(r => r.Use == InkRuleForm.Must).Select(r => r.Ink)],
            [.. said.Where(r => r.Use == InkRuleForm.Never).Select(r => r.Ink)],
            [
                .. said.Where(r => r.Place is not null && r.Use != InkRuleForm.Never)
                    .OrderBy(r => r.Place)
                    .Select(r => r.Ink),
            ]
        );
        return rules.IsEmpty ? null : rules;
    }

    /// <summary>The rows of the form that say it.</summary>
    public List<InkRuleForm> Rows() =>
        [
            .. Must.Concat(Never)
                .Concat(Order)
                .Distinct()
                .Select(ink => new InkRuleForm
                {
                    Ink = ink,
                    Use =
                        Must.Contains(ink) ? InkRuleForm.Must
                        : Never.Contains(ink) ? InkRuleForm.Never
                        : "",
                    Place = Order.IndexOf(ink) is >= 0 and var at ? at + 1 : null,
                }),
        ];

    /// <summary>With the versions of today in place of the shop's own inks' names.</summary>
    public async Task<InkRuleChoice> PinAsync(ShopInks inks, CancellationToken cancel)
    {
        var must = Must.ToBuilder();
        for (var i = 0; i < must.Count; i++)
            must[i] = await inks.PinAsync(must[i], cancel);
        return this with { Must = must.ToImmutable() };
    }
}

/// <summary>What the order form says about one ink.</summary>
public sealed class InkRuleForm
{
    public const string Must = "must";
    public const string Never = "never";

    public string Ink { get; set; } = "";

    /// <summary>"must", "never" or nothing.</summary>
    public string? Use { get; set; }

    /// <summary>Its place in print order among those that have one.</summary>
    public int? Place { get; set; }

    public bool SaysSomething => !string.IsNullOrEmpty(Use) || Place is not null;
}
