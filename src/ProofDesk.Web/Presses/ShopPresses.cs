using System.Globalization;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Presses;

/// <summary>One version of a press of the shop.</summary>
public sealed record ShopPress(ShopDefinition Row, PressDefinition Definition)
{
    /// <summary>How orders name it: "own-shed-press".</summary>
    public string OrderId => ShopPresses.Prefix + Row.Key;
}

/// <summary>
/// Presses the shop keeps in the database. An order names one by its key; a proof that is asked for names the version too, so
/// that it is computed with the same press whatever the shop reads later.
/// </summary>
public sealed class ShopPresses(ShopDefinitions definitions)
{
    public const string Prefix = "own-";

    public async Task<IReadOnlyList<ShopPress>> ListAsync(
        bool withRetired = false,
        CancellationToken cancel = default
    ) => [.. (await definitions.CurrentAsync(DefinitionKind.Press, withRetired, cancel)).Select(Of)];

    public async Task<IReadOnlyList<ShopPress>> HistoryAsync(string key, CancellationToken cancel = default) =>
        [.. (await definitions.HistoryAsync(DefinitionKind.Press, key, cancel)).Select(Of)];

    /// <summary>Writes the next version; null when somebody else wrote one since.</summary>
    public Task<int?> WriteAsync(string key, PressDefinition press, int seen, string actor, CancellationToken cancel) =>
        definitions.AddAsync(DefinitionKind.Press, key, press.ToJson(), seen, actor, cancel);

    public Task<int?> RetireAsync(string key, int seen, string actor, CancellationToken cancel) =>
        definitions.RetireAsync(DefinitionKind.Press, key, seen, actor, cancel);

    /// <summary>The press of an order, "own-shed-press", with the version of today: "own-shed-press@2".</summary>
    public async Task<string> PinAsync(string press, CancellationToken cancel) =>
        !press.Contains('@', StringComparison.Ordinal) && await FindAsync(press, cancel) is { } own
            ? string.Create(CultureInfo.InvariantCulture, $"{press}@{own.Row.Version}")
            : press;

    /// <summary>What an order or a pinned request names; null when there is none. Retired ones are found: old orders name them.</summary>
    public async Task<ShopPress?> FindAsync(string orderId, CancellationToken cancel)
    {
        if (!orderId.StartsWith(Prefix, StringComparison.Ordinal))
            return null;
        var parts = orderId[Prefix.Length..].Split('@');
        int? version = parts.Length == 2 ? int.Parse(parts[1], CultureInfo.InvariantCulture) : null;
        return await definitions.FindAsync(DefinitionKind.Press, parts[0], version, cancel) is { } row ? Of(row) : null;
    }

    /// <summary>"shed press (your own)".</summary>
    public static string NameOf(string orderId) =>
        orderId.StartsWith(Prefix, StringComparison.Ordinal)
            ? orderId[Prefix.Length..].Replace('-', ' ') + " (your own)"
            : "usual automatic press";

    private static ShopPress Of(ShopDefinition row) => new(row, PressDefinition.FromJson(row.Json));
}
