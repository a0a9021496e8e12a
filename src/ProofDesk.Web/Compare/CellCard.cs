using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Comparisons;

namespace ProofDesk.Web.Compare;

/// <summary>What one piece costs by the rate card of the moment the cell was made.</summary>
/// <param name="Card">Whose rates: "the shop's own, version 3".</param>
public sealed record CellCost(double PerPiece, int Pieces, string Card, string Currency)
{
    public string Words =>
        FormattableString.Invariant($"{PerPiece:0.00} {Currency}").TrimEnd()
        + $" each for {Layout.Words.Count(Pieces, "piece", "pieces")}";
}

/// <summary>Facts and cost of a finished cell, as they are kept with it.</summary>
public sealed record CellCard(CellFacts Facts, CellCost Cost)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    public string ToJson() => JsonSerializer.Serialize(this, Json);

    public static CellCard? Of(SheetCell cell) =>
        cell.State == CellState.Done ? JsonSerializer.Deserialize<CellCard>(cell.FactsJson, Json) : null;

    /// <summary>Names and values in the order a page and a file show them.</summary>
    public ImmutableArray<(string Name, string Value)> Lines =>
        [
            ("Inks", $"{Facts.Inks.Length}: {string.Join(", ", Facts.Inks)}"),
            ("Screens", $"{Facts.Screens}"),
            ("Heads", Facts.HeadsWords),
            ("Hand", FormattableString.Invariant($"{Facts.Hand}; film {Facts.FilmUm:0} µm")),
            ("Weight", FormattableString.Invariant($"{Facts.GramsPer100:0} g of {Facts.Matter} for 100 prints")),
            (
                "Smallest safe detail",
                Facts.DetailMm is { } mm
                    ? FormattableString.Invariant($"{mm:0.00} mm: {Facts.DetailWhy}")
                    : "nothing prints here"
            ),
            (CostName, Cost.Words),
        ];

    /// <summary>For holders of links: what a piece costs the shop is no price, and the shop's own business.</summary>
    public ImmutableArray<(string Name, string Value)> Shared => [.. Lines.Where(line => line.Name != CostName)];

    private const string CostName = "Cost";
}
