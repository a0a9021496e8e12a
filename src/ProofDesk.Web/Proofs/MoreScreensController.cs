using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Proofs;

/// <param name="Table">Null while it is being counted.</param>
/// <param name="Problem">Why it cannot be; null when it can.</param>
public sealed record MoreScreensPage(ProofPage Proof, ScreensSummary? Table, string? Problem);

/// <summary>What one more screen buys for a version in inks chosen by count.</summary>
[Needs(Right.ReadOrders)]
public sealed class MoreScreensController(VersionReader versions, ScreensShelf shelf, ShopRates rates, OfficeDb db)
    : Controller
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1.5);

    [HttpGet("/versions/{id:guid}/screens")]
    public async Task<IActionResult> Show(Guid id, string? print, string? ground, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var newest = await db
            .ProofVersions.Where(v => v.OrderId == read.Version.OrderId && v.ManifestSha256 != null)
            .MaxAsync(v => v.Number, cancel);
        var page = ProofPage.Of(read, print, ground, null, null, newest, null);
        var asked = read.Order.Prints.First(p => p.Key == page.Print.Key);
        if (PrintMethods.Find(asked.Method) is not { } method || !ScreensTables.Has(method))
            return View(
                "Screens",
                new MoreScreensPage(
                    page,
                    null,
                    $"{page.Print.Method} does not choose its inks by count, so nothing is counted here."
                )
            );
        try
        {
            var card = await rates.CurrentAsync(cancel);
            return View(
                "Screens",
                new MoreScreensPage(page, await shelf.ReadAsync(read, asked, card, Patience, cancel), null)
            );
        }
        catch (ProofRefused refused)
        {
            return View("Screens", new MoreScreensPage(page, null, refused.Message));
        }
    }
}
