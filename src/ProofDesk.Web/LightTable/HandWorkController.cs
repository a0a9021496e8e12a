using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.LightTable;

/// <summary>Drops the hand work of a print from the order's page; versions that were made with it keep it.</summary>
[Needs(Right.WorkOnArt)]
public sealed class HandWorkController(OrderBook book, RenderRequests renders) : Controller
{
    [HttpPost("/orders/{id:guid}/hand-work")]
    public async Task<IActionResult> Drop(Guid id, long rowVersion, int position, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { } order)
            return NotFound();
        if (order.Prints.Find(p => p.Position == position) is not { } print)
            return NotFound();
        var plain = (PrintOptions.Of(print.Options) with { HandWork = null }).ToJson();
        var actor = User.Identity!.Name!;
        var note = $"{print.Name}: films put back to as made";
        if (!await book.ChooseAsync(id, rowVersion, position, plain, note, actor, cancel))
            return Redirect($"/orders/{id}?late=true");
        await renders.AskAsync(id, actor, cancel);
        return Redirect($"/orders/{id}");
    }
}
