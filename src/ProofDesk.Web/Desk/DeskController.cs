using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Desk;

/// <summary>The one list: whose turn it is, nearest in-hands date first; what is looked for; the archive.</summary>
public sealed class DeskController(OrderList list, OrderBook book, OfficeDb db, TimeProvider time) : Controller
{
    [HttpGet("/")]
    [AllowAnonymous]
    public IActionResult Home() => Redirect("/desk");

    [HttpGet("/desk")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Index(DeskQuery query, CancellationToken cancel)
    {
        var chosen = Turn.Find(query.Turn);
        var states = Turn
            .All.Where(turn => chosen is null ? query.Wish.IsSearch || turn.State != OrderState.Closed : turn == chosen)
            .Select(turn => turn.State)
            .ToList();
        var parts = await list.FindAsync(
            query.Wish,
            states,
            chosen is null ? 1 : query.Page,
            chosen is null ? DeskPage.RowsBeside : DeskPage.RowsAlone,
            cancel
        );
        var today = DateOnly.FromDateTime(time.GetUtcNow().UtcDateTime);
        return View(
            "Desk",
            new DeskPage(
                query,
                chosen,
                [
                    .. parts.Select(part => new DeskPart(
                        Turn.Of(part.State),
                        [.. part.Rows.Select(row => DeskRow.Of(row, today))],
                        part.Count,
                        part.Page,
                        part.Pages
                    )),
                ]
            )
        );
    }

    /// <summary>Puts a finished order away. It is found again under "done" and can be taken back.</summary>
    [HttpPost("/orders/{id:guid}/archive")]
    [Needs(Right.Produce)]
    public async Task<IActionResult> PutAway(Guid id, CancellationToken cancel)
    {
        if (!await db.Orders.AnyAsync(order => order.Id == id, cancel))
            return NotFound();
        await book.CloseAsync(id, User.Identity!.Name!, cancel);
        return Redirect("/desk?turn=done");
    }

    /// <summary>Takes an order out of the archive, back to whose turn it is.</summary>
    [HttpPost("/orders/{id:guid}/reopening")]
    [Needs(Right.Produce)]
    public async Task<IActionResult> TakeBack(Guid id, CancellationToken cancel)
    {
        if (!await db.Orders.AnyAsync(order => order.Id == id, cancel))
            return NotFound();
        await book.ReopenAsync(id, User.Identity!.Name!, cancel);
        return Redirect($"/orders/{id}");
    }
}
