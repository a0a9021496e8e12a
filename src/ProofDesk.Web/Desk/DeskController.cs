using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Desk;

/// <summary>The one list: whose turn it is, nearest in-hands date first.</summary>
public sealed class DeskController(OfficeDb db, TimeProvider time) : Controller
{
    [HttpGet("/")]
    [AllowAnonymous]
    public IActionResult Home() => Redirect("/desk");

    [HttpGet("/desk")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Index()
    {
        var orders = await db
            .Orders.AsNoTracking()
            .AsSplitQuery()
            .Where(o => o.State != OrderState.Closed)
            .Include(o => o.Client)
            .Include(o => o.Prints)
            .Include(o => o.Lines)
                .ThenInclude(l => l.Counts)
            .Include(o => o.Versions)
            .OrderBy(o => o.InHandsDate == null)
            .ThenBy(o => o.InHandsDate)
            .ThenBy(o => o.Number)
            .ToListAsync();
        var today = DateOnly.FromDateTime(time.GetUtcNow().UtcDateTime);
        return View("Desk", new DeskPage([.. orders.Select(o => DeskRow.Of(o, today))]));
    }
}
