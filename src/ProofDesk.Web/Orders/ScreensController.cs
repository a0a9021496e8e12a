using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Orders;

/// <summary>Takes a row of the table of screens: the order asks for so many colours from now on.</summary>
[Needs(Right.WorkOnArt)]
public sealed class ScreensController(OrderBook book, RenderRequests renders) : Controller
{
    [HttpPost("/orders/{id:guid}/screens")]
    public async Task<IActionResult> Update(Guid id, int colours, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        if (
            colours is < 1 or > ScreensTables.MostColours
            || PrintMethods.Find(print.Method) is not { } method
            || !ScreensTables.Has(method)
        )
            return BadRequest();
        // The value goes through the form and back by the same unit, whichever it is.
        var form = OrderForms.Of(order, currency: "");
        (form.InkCount, form.Inks) = (colours, []);
        var draft = OrderForms.Draft(form, order.ClientId, new(print.ArtSha256, print.ArtFileName, print.ArtMediaType));
        (draft.Prints[0].Background, draft.Prints[0].Options) = (print.Background, print.Options);
        var actor = User.Identity!.Name!;
        if (!await book.EditAsync(id, order.RowVersion, draft, actor, cancel))
            return Conflict();
        await renders.AskAsync(id, actor, cancel);
        return Redirect($"/orders/{id}");
    }
}
