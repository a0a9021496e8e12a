using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Web.Devices;

/// <summary>One version of a frame template of the shop.</summary>
public sealed record ShopFrame(ShopDefinition Row, FrameRecord Record);

/// <summary>Frame templates the shop keeps in the database. A device takes the version of the day it is written.</summary>
public sealed class ShopFrames(ShopDefinitions definitions)
{
    public async Task<IReadOnlyList<ShopFrame>> ListAsync(
        bool withRetired = false,
        CancellationToken cancel = default
    ) => [.. (await definitions.CurrentAsync(DefinitionKind.Frame, withRetired, cancel)).Select(Of)];

    public async Task<IReadOnlyList<ShopFrame>> HistoryAsync(string key, CancellationToken cancel = default) =>
        [.. (await definitions.HistoryAsync(DefinitionKind.Frame, key, cancel)).Select(Of)];

    /// <summary>Writes the next version; null when somebody else wrote one since.</summary>
    public Task<int?> WriteAsync(string key, FrameRecord frame, int seen, string actor, CancellationToken cancel) =>
        definitions.AddAsync(DefinitionKind.Frame, key, frame.ToJson(), seen, actor, cancel);

    public Task<int?> RetireAsync(string key, int seen, string actor, CancellationToken cancel) =>
        definitions.RetireAsync(DefinitionKind.Frame, key, seen, actor, cancel);

    private static ShopFrame Of(ShopDefinition row) => new(row, FrameRecord.Read(row.Json, row.Key));
}
