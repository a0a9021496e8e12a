using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Compare;

/// <summary>Gives out links of a sheet and calls them back.</summary>
[Route("/compare/{sheetId:guid}/links")]
[Needs(Right.Send)]
public sealed class SheetLinksController(SheetLinks links, SheetPages pages, ServerSettings settings) : Controller
{
    /// <summary>The answer is the page with the link on it: it is kept nowhere and cannot be shown again.</summary>
    [HttpPost("")]
    public async Task<IActionResult> Create(Guid sheetId, SheetLinkForm form, CancellationToken cancel)
    {
        if (await pages.FindAsync(sheetId, $"/compare/{sheetId}", cancel) is not { } page)
            return NotFound();
        string? token = null;
        if (ModelState.IsValid)
        {
            token = await links.GiveAsync(sheetId, form.ForWhom.Trim(), form.Days, User.Identity!.Name!, cancel);
            if (token is null)
                ModelState.AddModelError(
                    "",
                    $"{SheetLinks.MostOpen} links of this sheet are open, and no more can be. Call one back first."
                );
        }
        if (token is null)
        {
            return this.Again("Sheet", page with { LinkForm = form });
        }
        ModelState.Clear();
        return View(
            "Sheet",
            page with
            {
                NewLink = settings.Link($"/c/{token}"),
                Links = await links.OfSheetAsync(sheetId, cancel),
            }
        );
    }

    [HttpPost("{linkId:guid}/revocation")]
    public async Task<IActionResult> Revoke(Guid sheetId, Guid linkId, CancellationToken cancel) =>
        await links.RevokeAsync(sheetId, linkId, User.Identity!.Name!, cancel)
            ? Redirect($"/compare/{sheetId}#links")
            : NotFound();
}
