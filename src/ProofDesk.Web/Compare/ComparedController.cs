using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Reviews;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Compare;

/// <summary>
/// A sheet by its link: to look at, and to say what one likes best. A preference is kept beside the sheet and is nothing else; no
/// page here can approve, order or send.
/// </summary>
[AllowAnonymous]
public sealed class ComparedController(
    SheetLinks links,
    SheetBook book,
    SheetPages pages,
    DerivedPictures derived,
    ReviewTicket ticket,
    MissedLinks misses
) : Controller
{
    private const string Here = "/compared/{id:guid}";

    /// <summary>The address that was given out. It only leads on: nothing is written, however often a scanner comes by.</summary>
    [HttpGet("/c/{token}")]
    public async Task<IActionResult> Open(string token, CancellationToken cancel)
    {
        if (await misses.RefusesAsync(HttpContext))
            return StatusCode(StatusCodes.Status429TooManyRequests);
        switch (await links.OpenAsync(token, cancel))
        {
            case SheetOpening.Open open:
                ticket.Add(HttpContext, open.LinkId);
                Response.StatusCode = StatusCodes.Status303SeeOther;
                Response.Headers.Location = $"/compared/{open.LinkId}";
                return new EmptyResult();
            case SheetOpening.Gone gone:
                return Closed(gone);
            case SheetOpening.Incomplete:
                return Closed(
                    404,
                    "This link is incomplete",
                    "A few characters at its end are missing. Copy the whole link."
                );
            default:
                await misses.CountAsync(HttpContext);
                return NotFound();
        }
    }

    [HttpGet(Here)]
    public async Task<IActionResult> Show(Guid id, string? view, CancellationToken cancel)
    {
        var (page, closed) = await PageAsync(id, cancel);
        return page is null
            ? closed!
            : View(
                "Compared",
                new ComparedPage(
                    page with
                    {
                        View = view == SheetPage.GarmentView ? view : SheetPage.PrintView,
                    },
                    id,
                    Again(page, id)
                )
            );
    }

    [HttpGet(Here + "/cells/{cellId:guid}/w{width:int:range(64,900)}/{picture:regex(^(print|garment)$)}.png")]
    public async Task<IActionResult> Picture(
        Guid id,
        Guid cellId,
        int width,
        string picture,
        CancellationToken cancel
    ) =>
        ticket.Holds(HttpContext, id)
        && await links.OpenAsync(id, cancel) is SheetOpening.Open open
        && await book.CellAsync(open.SheetId, cellId, cancel) is { } cell
        && CellPictures.Of(cell, picture) is { } sha256
            ? await this.PictureAsync(derived, sha256, width, cancel)
            : NotFound();

    [HttpPost(Here + "/preference")]
    public async Task<IActionResult> Prefer(Guid id, PreferenceForm form, CancellationToken cancel)
    {
        var (page, closed) = await PageAsync(id, cancel);
        if (page is null)
            return closed!;
        if (
            ModelState.IsValid
            && !await links.PreferAsync(id, form.Cell!.Value, form.Name.Trim(), form.Words?.Trim() ?? "", cancel)
        )
            ModelState.AddModelError(nameof(form.Cell), "Mark one of the pictures on this page.");
        if (ModelState.IsValid)
            return Redirect($"/compared/{id}#said");
        return this.Again("Compared", new ComparedPage(page, id, form));
    }

    private async Task<(SheetPage? Page, IActionResult? Closed)> PageAsync(Guid id, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id))
            return (
                null,
                Closed(
                    404,
                    "Open your link again",
                    "This page opens with the link you were given. Open it again, in this browser."
                )
            );
        return await links.OpenAsync(id, cancel) switch
        {
            SheetOpening.Open open => (await pages.FindAsync(open.SheetId, $"/compared/{id}", cancel), null),
            SheetOpening.Gone gone => (null, Closed(gone)),
            _ => (null, NotFound()),
        };
    }

    private ViewResult Closed(SheetOpening.Gone gone) =>
        Closed(
            StatusCodes.Status410Gone,
            "This link is no longer in use",
            gone.Revoked ? "We have called it back. Ask us for a new one." : "Its time is over. Ask us for a new one."
        );

    private ViewResult Closed(int status, string title, string text)
    {
        Response.StatusCode = status;
        return View("Closed", (title, text));
    }

    private static PreferenceForm Again(SheetPage page, Guid linkId) =>
        page.PreferenceOf(linkId) is { } said
            ? new PreferenceForm
            {
                Cell = said.CellId,
                Name = said.Name,
                Words = said.Words,
            }
            : new PreferenceForm();
}

/// <param name="LinkId">The visitor's own link: he sees his own word and nobody else's.</param>
public sealed record ComparedPage(SheetPage Page, Guid LinkId, PreferenceForm Form);
