using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Start;
using ProofDesk.Web.Wardrobe;

namespace ProofDesk.Web.Renders;

/// <summary>Asks for a proof of an order as it stands now, and tells how far it is.</summary>
public sealed class RenderRequests(
    OfficeDb db,
    OrderBook book,
    RenderQueue queue,
    ShopInks inks,
    ShopPresses presses,
    ShopDevices devices,
    ShopGarments garments,
    ServerSettings settings
)
{
    public async Task<Guid> AskAsync(Guid orderId, string actor, CancellationToken cancel)
    {
        var order =
            await book.FindAsync(orderId, cancel)
            ?? throw new InvalidOperationException($"there is no order {orderId}");
        var asked = ProofOrder.Of(order, settings);
        var prints = asked.Prints.ToBuilder();
        for (var i = 0; i < prints.Count; i++)
            prints[i] = prints[i] with
            {
                Inks = await inks.PinAsync(prints[i].Inks, cancel),
                Press = await presses.PinAsync(prints[i].Press, cancel),
                Options = prints[i].Options is { } options ? await PinnedAsync(options, cancel) : null,
            };
        var lines = asked.Lines.ToBuilder();
        for (var i = 0; i < lines.Count; i++)
            lines[i] = lines[i] with { GarmentId = await garments.PinAsync(lines[i].GarmentId, cancel) };
        asked = asked with { Prints = prints.ToImmutable(), Lines = lines.ToImmutable() };
        return await queue.AskAsync(orderId, asked.ToJson(), actor, cancel);
    }

    private async Task<PrintOptions> PinnedAsync(PrintOptions options, CancellationToken cancel) =>
        options with
        {
            Device = options.Device is { } device ? await devices.PinAsync(device, cancel) : null,
            InkRules = options.InkRules is { } rules ? await rules.PinAsync(inks, cancel) : null,
        };

    public async Task<RenderView?> ViewAsync(Guid? versionId, CancellationToken cancel) =>
        versionId is { } id ? await queue.ViewAsync(id, cancel) : null;

    public Task<bool> OrderExistsAsync(Guid orderId, CancellationToken cancel) =>
        db.Orders.AnyAsync(o => o.Id == orderId, cancel);

    public Task<Guid?> OrderOfAsync(Guid versionId, CancellationToken cancel) =>
        db.ProofVersions.Where(v => v.Id == versionId).Select(v => (Guid?)v.OrderId).FirstOrDefaultAsync(cancel);
}
