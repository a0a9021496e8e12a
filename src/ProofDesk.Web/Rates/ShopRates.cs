using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Costs;

namespace ProofDesk.Web.Rates;

/// <summary>One version of the shop's rate card.</summary>
public sealed record ShopRateCard(ShopDefinition Row, RateCard Card);

/// <summary>The shop has one rate card. Until it writes its own, common practice with example money stands in.</summary>
public sealed class ShopRates(ShopDefinitions definitions)
{
    private const string Only = "shop";

    public async Task<IReadOnlyList<ShopRateCard>> HistoryAsync(CancellationToken cancel = default) =>
        [
            .. (await definitions.HistoryAsync(DefinitionKind.RateCard, Only, cancel)).Select(row => new ShopRateCard(
                row,
                RateCardJson.Read(row.Json, row.Key)
            )),
        ];

    /// <summary>The newest card, or common practice.</summary>
    public async Task<RateCard> CurrentAsync(CancellationToken cancel = default) =>
        await HistoryAsync(cancel) is [var newest, ..] ? newest.Card : RateCard.CommonPractice;

    /// <summary>Writes the next version; null when somebody else wrote one since.</summary>
    public Task<int?> WriteAsync(RateCard card, int seen, string actor, CancellationToken cancel) =>
        definitions.AddAsync(DefinitionKind.RateCard, Only, RateCardJson.Write(card), seen, actor, cancel);
}
