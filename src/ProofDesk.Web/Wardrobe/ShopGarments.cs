using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Web.Wardrobe;

/// <summary>One version of a garment of the shop's own; its JSON is the garment file.</summary>
public sealed record ShopGarment(ShopDefinition Row, Garment Garment)
{
    /// <summary>How orders and the garment's own file name it: "own-harbour-tee".</summary>
    public string OrderId => ShopGarments.Prefix + Row.Key;
}

/// <summary>
/// Garments the shop keeps in the database, photographs in the file store. An order names one by its key; a proof that is asked
/// for names the version too, so that it can be made again whatever the shop changes later.
/// </summary>
public sealed class ShopGarments(
    ShopDefinitions definitions,
    GarmentPhotographs photographs,
    IFileStore files,
    TimeProvider time
)
{
    public const string Prefix = "own-";

    // Pages ask for names several times each; another process' change shows after this long.
    private static readonly TimeSpan Fresh = TimeSpan.FromSeconds(2);

    // A version never changes.
    private readonly ConcurrentDictionary<(string Key, int Version), ShopGarment> read = new();
    private volatile Snapshot? now;

    private sealed record Snapshot(IReadOnlyList<ShopGarment> Garments, DateTimeOffset At);

    public async Task<IReadOnlyList<ShopGarment>> ListAsync(
        bool withRetired = false,
        CancellationToken cancel = default
    ) => [.. (await definitions.CurrentAsync(DefinitionKind.Garment, withRetired, cancel)).Select(Of)];

    public async Task<IReadOnlyList<ShopGarment>> HistoryAsync(string key, CancellationToken cancel = default) =>
        [.. (await definitions.HistoryAsync(DefinitionKind.Garment, key, cancel)).Select(Of)];

    /// <summary>The newest versions, the retired too: what pages name garments by.</summary>
    public IReadOnlyList<ShopGarment> Current()
    {
        var at = time.GetUtcNow();
        if (now is not { } seen || at - seen.At > Fresh)
            now = seen = new(ListAsync(withRetired: true).GetAwaiter().GetResult(), at);
        return seen.Garments;
    }

    /// <summary>What an order or a pinned request names; null when there is none. Retired ones are found: old orders name them.</summary>
    public ShopGarment? Find(string orderId)
    {
        if (!orderId.StartsWith(Prefix, StringComparison.Ordinal))
            return null;
        var parts = orderId[Prefix.Length..].Split('@');
        var current = Current().FirstOrDefault(g => g.Row.Key == parts[0]);
        if (current is null || parts.Length == 1)
            return current;
        if (!int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var version))
            return null;
        if (version == current.Row.Version)
            return current;
        return definitions.FindAsync(DefinitionKind.Garment, parts[0], version).GetAwaiter().GetResult() is { } row
            ? Of(row)
            : null;
    }

    /// <summary>The garment of an order line with the version of today: "own-harbour-tee@2".</summary>
    public async Task<string> PinAsync(string orderId, CancellationToken cancel) =>
        orderId.StartsWith(Prefix, StringComparison.Ordinal)
        && !orderId.Contains('@', StringComparison.Ordinal)
        && await definitions.FindAsync(DefinitionKind.Garment, orderId[Prefix.Length..], cancel: cancel) is { } row
            ? string.Create(CultureInfo.InvariantCulture, $"{orderId}@{row.Version}")
            : orderId;

    /// <summary>With the pixels of its photographs.</summary>
    /// <exception cref="ProofRefused">A photograph cannot be read; nobody finds out from a picture that is not there.</exception>
    public async Task<Garment> WithPhotographsAsync(Garment garment, CancellationToken cancel)
    {
        try
        {
            return await photographs.WithPhotographsAsync(
                garment,
                async photograph =>
                    files.Has(photograph.Sha256) ? await files.ReadCheckedAsync(photograph.Sha256, cancel) : null,
                cancel
            );
        }
        catch (GarmentFormatException problem)
        {
            throw new ProofRefused([
                new(
                    "garment-photograph",
                    Printing.Artworks.FindingWeight.Refusal,
                    $"the photograph of {garment.Name} cannot be used: {problem.Message}",
                    "photograph it again on the page Garments, or choose another garment"
                ),
            ]);
        }
    }

    /// <summary>Writes the next version; null when somebody else wrote one since.</summary>
    public async Task<int?> WriteAsync(string key, byte[] file, int seen, string actor, CancellationToken cancel)
    {
        var version = await definitions.AddAsync(
            DefinitionKind.Garment,
            key,
            Encoding.UTF8.GetString(file),
            seen,
            actor,
            cancel
        );
        now = null;
        return version;
    }

    public async Task<int?> RetireAsync(string key, int seen, string actor, CancellationToken cancel)
    {
        var version = await definitions.RetireAsync(DefinitionKind.Garment, key, seen, actor, cancel);
        now = null;
        return version;
    }

    private ShopGarment Of(ShopDefinition row) =>
        read.GetOrAdd((row.Key, row.Version), _ => new(row, GarmentCatalogue.Read(Encoding.UTF8.GetBytes(row.Json))));
}
