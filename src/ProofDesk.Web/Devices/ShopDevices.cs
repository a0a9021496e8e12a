using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Web.Devices;

/// <summary>A device as the desk keeps it.</summary>
/// <param name="FrameKey">The template its frame was taken from; null = the usual one.</param>
public sealed record DeviceDefinition(DeviceRecord Record, string? FrameKey, int? FrameVersion)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    };

    private sealed record Stored(JsonElement Record, string? FrameKey, int? FrameVersion);

    public string ToJson()
    {
        using var record = JsonDocument.Parse(Record.ToJson());
        return JsonSerializer.Serialize(new Stored(record.RootElement, FrameKey, FrameVersion), Json);
    }

    public static DeviceDefinition FromJson(string json, string key)
    {
        var stored =
            JsonSerializer.Deserialize<Stored>(json, Json) ?? throw new InvalidDataException("the device is empty");
        return new(DeviceRecord.Read(stored.Record.GetRawText(), key), stored.FrameKey, stored.FrameVersion);
    }
}

/// <summary>One version of an output device of the shop.</summary>
public sealed record ShopDevice(ShopDefinition Row, DeviceDefinition Definition)
{
    /// <summary>How orders name it: "own-back-room".</summary>
    public string OrderId => ShopDevices.Prefix + Row.Key;

    public DeviceRecord Record => Definition.Record;
}

/// <summary>
/// Output devices the shop keeps in the database. An order names one by its key; a proof that is asked for names the version
/// too, so that its films stay what they are whatever the shop measures later.
/// </summary>
public sealed class ShopDevices(ShopDefinitions definitions)
{
    public const string Prefix = "own-";

    public async Task<IReadOnlyList<ShopDevice>> ListAsync(
        bool withRetired = false,
        CancellationToken cancel = default
    ) => [.. (await definitions.CurrentAsync(DefinitionKind.OutputDevice, withRetired, cancel)).Select(Of)];

    public async Task<IReadOnlyList<ShopDevice>> HistoryAsync(string key, CancellationToken cancel = default) =>
        [.. (await definitions.HistoryAsync(DefinitionKind.OutputDevice, key, cancel)).Select(Of)];

    /// <summary>Writes the next version; null when somebody else wrote one since.</summary>
    public Task<int?> WriteAsync(
        string key,
        DeviceDefinition device,
        int seen,
        string actor,
        CancellationToken cancel
    ) => definitions.AddAsync(DefinitionKind.OutputDevice, key, device.ToJson(), seen, actor, cancel);

    public Task<int?> RetireAsync(string key, int seen, string actor, CancellationToken cancel) =>
        definitions.RetireAsync(DefinitionKind.OutputDevice, key, seen, actor, cancel);

    /// <summary>The device of an order, "own-back-room", with the version of today: "own-back-room@2".</summary>
    public async Task<string> PinAsync(string device, CancellationToken cancel) =>
        !device.Contains('@', StringComparison.Ordinal) && await FindAsync(device, cancel) is { } own
            ? string.Create(CultureInfo.InvariantCulture, $"{device}@{own.Row.Version}")
            : device;

    /// <summary>What an order or a pinned request names; null when there is none. Retired ones are found: old orders name them.</summary>
    public async Task<ShopDevice?> FindAsync(string orderId, CancellationToken cancel)
    {
        if (!orderId.StartsWith(Prefix, StringComparison.Ordinal))
            return null;
        var parts = orderId[Prefix.Length..].Split('@');
        int? version = parts.Length == 2 ? int.Parse(parts[1], CultureInfo.InvariantCulture) : null;
        return await definitions.FindAsync(DefinitionKind.OutputDevice, parts[0], version, cancel) is { } row
            ? Of(row)
            : null;
    }

    /// <summary>"back room (your own)".</summary>
    public static string NameOf(string? orderId) =>
        orderId?.StartsWith(Prefix, StringComparison.Ordinal) == true
            ? orderId[Prefix.Length..].Replace('-', ' ') + " (your own)"
            : "fallback film recorder";

    private static ShopDevice Of(ShopDefinition row) => new(row, DeviceDefinition.FromJson(row.Json, row.Key));
}
