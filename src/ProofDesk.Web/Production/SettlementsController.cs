using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Production;

/// <summary>Staff looked at what holds an order's production and says what they found.</summary>
[Needs(Right.WriteAnswers)]
public sealed class SettlementsController(Disputes disputes, OfficeDb db) : Controller
{
    [HttpPost("/orders/{id:guid}/settlement")]
    public async Task<IActionResult> Create(Guid id, string? words, string? outcome, CancellationToken cancel)
    {
        if (!await db.Orders.AnyAsync(order => order.Id == id, cancel))
            return NotFound();
        var said = words?.Trim() ?? "";
        if (said.Length is 0 or > Disputes.MostWords || outcome is not ("stands" or "void"))
        {
            this.ToMend();
            return View(
                "NotDone",
                new NotDone(
                    "Not settled yet",
                    $"Write in 1 to {Disputes.MostWords} characters what you found (now {said.Length}), and choose whether the answer stands.",
                    $"/orders/{id}#held"
                )
            );
        }
        return await disputes.SettleAsync(id, outcome == "stands", said, User.Identity!.Name!, cancel)
            ? Redirect($"/orders/{id}")
            : NotFound();
    }
}

/// <summary>Why something was not written, and the way back.</summary>
public sealed record NotDone(string Title, string Text, string Back);
