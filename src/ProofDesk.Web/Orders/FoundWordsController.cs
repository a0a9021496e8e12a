using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Orders;

/// <param name="Words">One line each: as they were found in the file, or as they were typed.</param>
/// <param name="Found">How many lines the file holds as text.</param>
public sealed record FoundWordsPage(Order Order, string Words, int Found);

/// <summary>
/// Words that stand in the file as text, offered for confirmation: what the client reads word by word is what somebody
/// of the shop has read before.
/// </summary>
[Needs(Right.WorkOnArt)]
[Route("/orders/{id:guid}/words")]
public sealed class FoundWordsController(OfficeDb db, OrderBook book, Artworks artworks, RenderRequests renders)
    : Controller
{
    public const int MostCharacters = 4000;

    [HttpGet("")]
    public async Task<IActionResult> Edit(Guid id, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        var found = await artworks.FoundWordsAsync(print, cancel);
        var words = print.Words.Length > 0 ? print.Words : string.Join('\n', found);
        return View("FoundWords", new FoundWordsPage(order, words, found.Length));
    }

    [HttpPost("")]
    public async Task<IActionResult> Update(Guid id, string? words, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        var lines = OrderForms.Lines(words);
        var text = string.Join('\n', lines);
        if (text.Length > MostCharacters)
        {
            ModelState.AddModelError("Words", "The words of the art have at most 4,000 characters.");
            return this.Again("FoundWords", new FoundWordsPage(order, text, lines.Length));
        }
        await db
            .OrderPrints.Where(p => p.Id == print.Id)
            .ExecuteUpdateAsync(s => s.SetProperty(p => p.Words, text), cancel);
        await renders.AskAsync(id, User.Identity!.Name!, cancel);
        return Redirect($"/orders/{id}");
    }
}
