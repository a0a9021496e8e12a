using System.Collections.Concurrent;
using System.Globalization;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Web.Inks;

/// <summary>One version of an ink of the shop.</summary>
public sealed record ShopInk(ShopDefinition Row, InkDefinition Definition)
{
    /// <summary>How orders name it: "own-harbour-red".</summary>
    public string OrderId => InkDefinition.Prefix + Row.Key;
}

/// <summary>
/// Inks the shop keeps in the database. An order names one by its key; a proof that is asked for names the version too, so that
/// it is made of the same ink whatever the shop writes later.
/// </summary>
public sealed class ShopInks(ShopDefinitions definitions)
{
    // A version never changes, and fitting an ink to a Lab takes a moment.
    private readonly ConcurrentDictionary<Guid, InkReading> _made = new();

    public async Task<IReadOnlyList<ShopInk>> ListAsync(bool withRetired = false, CancellationToken cancel = default) =>
        [.. (await definitions.CurrentAsync(DefinitionKind.Ink, withRetired, cancel)).Select(Of)];

    public async Task<IReadOnlyList<ShopInk>> HistoryAsync(string key, CancellationToken cancel = default) =>
        [.. (await definitions.HistoryAsync(DefinitionKind.Ink, key, cancel)).Select(Of)];

    /// <summary>Writes the next version; null when somebody else wrote one since.</summary>
    public Task<int?> WriteAsync(InkDefinition ink, int seen, string actor, CancellationToken cancel) =>
        definitions.AddAsync(DefinitionKind.Ink, ink.Id, InkDefinitionJson.Write(ink), seen, actor, cancel);

    public Task<int?> RetireAsync(string key, int seen, string actor, CancellationToken cancel) =>
        definitions.RetireAsync(DefinitionKind.Ink, key, seen, actor, cancel);

    /// <summary>The ink itself, or what keeps it from being one.</summary>
    public InkReading Make(ShopInk ink) => _made.GetOrAdd(ink.Row.Id, _ => ink.Definition.Make(ink.Row.Key));

    /// <summary>The inks of an order, "red,own-harbour-red", with the versions of today: "red,own-harbour-red@3".</summary>
    public async Task<string> PinAsync(string inks, CancellationToken cancel)
    {
        var pinned = inks.Split(',');
        for (var i = 0; i < pinned.Length; i++)
        {
            if (!IsOwn(pinned[i]) || pinned[i].Contains('@', StringComparison.Ordinal))
                continue;
            if (await FindAsync(pinned[i], cancel) is { } ink)
                pinned[i] = string.Create(CultureInfo.InvariantCulture, $"{pinned[i]}@{ink.Row.Version}");
        }
        return string.Join(',', pinned);
    }

    /// <summary>What an order or a pinned request names; null when there is none. Retired inks are found: old orders name them.</summary>
    public async Task<ShopInk?> FindAsync(string orderId, CancellationToken cancel)
    {
        if (!IsOwn(orderId))
            return null;
        var parts = orderId[InkDefinition.Prefix.Length..].Split('@');
        int? version = parts.Length == 2 ? int.Parse(parts[1], CultureInfo.InvariantCulture) : null;
        return await definitions.FindAsync(DefinitionKind.Ink, parts[0], version, cancel) is { } row ? Of(row) : null;
    }

    public static bool IsOwn(string orderId) => orderId.StartsWith(InkDefinition.Prefix, StringComparison.Ordinal);

    private static ShopInk Of(ShopDefinition row) => new(row, InkDefinitionJson.Read(row.Json));
}
