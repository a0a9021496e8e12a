using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Reviews;

namespace ProofDesk.Web.Records;

/// <summary>The client's copy of the record, for the holder of a link to the same order.</summary>
[AllowAnonymous]
public sealed class ReceiptsController(
    RecordReader records,
    Adapters.Database.Records store,
    Invitations invitations,
    ReviewTicket ticket
) : Controller
{
    [HttpGet("/receipt/{id:guid}")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel) =>
        await FindAsync(id, cancel) is { } page ? View("Receipt", page) : NotFound();

    [HttpGet("/receipt/{id:guid}/packet.zip")]
    public async Task<IActionResult> Packet(Guid id, CancellationToken cancel) =>
        await FindAsync(id, cancel) is { HasPacket: true } page ? new PacketResult(page, store) : NotFound();

    private async Task<RecordPage?> FindAsync(Guid decisionId, CancellationToken cancel)
    {
        if (await records.FindAsync(decisionId, cancel) is not { } page)
            return null;
        foreach (var id in ticket.Read(HttpContext))
        {
            if (await invitations.ReviewAsync(id, cancel) is { } review && review.Order.Id == page.Decision.OrderId)
                return page;
        }
        return null;
    }
}
