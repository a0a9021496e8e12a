using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <summary>The question every opaque picture raises, asked with both answers drawn on the order's own cloth.</summary>
[Needs(Right.WorkOnArt)]
[Route("/orders/{id:guid}/background")]
public sealed class BackgroundController(
    OfficeDb db,
    OrderBook book,
    Artworks artworks,
    Garments garments,
    RenderRequests renders
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> Edit(Guid id, CancellationToken cancel) =>
        await book.FindAsync(id, cancel) is { Prints: [_, ..] } order ? View("Background", order) : NotFound();

    [HttpGet("{answer:regex(^(drop|print)$)}.png")]
    public async Task<IActionResult> Picture(Guid id, string answer, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..], Lines: [var line, ..] })
            return NotFound();
        if (garments.Find(line.GarmentId, line.ColourId) is not { } ground)
            return NotFound();
        var widthMm = print.WidthUm / 1000.0;
        var art = await artworks.ReadAsync(print, cancel);
        var choice = answer == "drop" ? BackgroundChoice.Drop : BackgroundChoice.Print;
        return File(Artworks.OnCloth(art, widthMm, choice, ground.Colour), "image/png");
    }

    [HttpPost("")]
    public async Task<IActionResult> Update(Guid id, string? answer, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        if (answer is not ("drop" or "print"))
        {
            ModelState.AddModelError("answer-drop", "Choose what happens to the background.");
            return this.Again("Background", order);
        }
        await db
            .OrderPrints.Where(p => p.OrderId == id)
            .ExecuteUpdateAsync(s => s.SetProperty(p => p.Background, answer), cancel);
        if (print.Words.Length == 0 && await artworks.FoundWordsAsync(print, cancel) is [_, ..])
            return Redirect($"/orders/{id}/words");
        await renders.AskAsync(id, User.Identity!.Name!, cancel);
        return Redirect($"/orders/{id}");
    }
}
