using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Proofs;

/// <summary>The staff's page of one version: everything that is bound, to look at and to measure.</summary>
[Needs(Right.ReadOrders)]
public sealed class ProofsController(
    VersionReader versions,
    LoupeDesk loupes,
    ArtPictures arts,
    Garments garments,
    OfficeDb db
) : Controller
{
    [HttpGet("/versions/{id:guid}")]
    public async Task<IActionResult> Show(
        Guid id,
        string? print,
        string? ground,
        double? x,
        double? y,
        string? end,
        int? head,
        CancellationToken cancel
    )
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var newest = await db
            .ProofVersions.Where(v => v.OrderId == read.Version.OrderId && v.ManifestSha256 != null)
            .MaxAsync(v => v.Number, cancel);
        var decision = await db
            .DecisionSlots.AsNoTracking()
            .Where(s => s.VersionId == id)
            .Select(s => s.Decision)
            .FirstOrDefaultAsync(cancel);
        return View("Proof", ProofPage.Of(read, print, ground, x, y, newest, decision, end, head));
    }

    /// <summary>The art as it was sent, on the colour of a cloth: whole, or around the place of a finding.</summary>
    [HttpGet("/versions/{id:guid}/art.png")]
    public async Task<IActionResult> Art(Guid id, string? print, string? ground, int? finding, CancellationToken cancel)
    {
        if (
            await versions.FindAsync(id, cancel) is not { } read
            || read.Order.Prints.FirstOrDefault(p => p.Key == print) is not { } asked
            || garments.Find(ground ?? "") is not { } cloth
        )
            return NotFound();
        var page = ProofPage.Of(read, print, ground, null, null, 0, null);
        var placed = page.Placed.FirstOrDefault(p => p.Index == finding);
        if (page.Ground.Id != cloth.Id || (finding is not null && placed is null))
            return NotFound();
        if (await arts.PngAsync(read, asked, cloth, placed?.View, cancel) is not { } png)
            return NotFound();
        Response.Headers.CacheControl = "private, max-age=3600";
        return File(png, "image/png");
    }

    /// <summary>
    /// The very dots around a spot: as the press would lay them, after some of the screens, or on one film. One film pixel is
    /// one picture pixel.
    /// </summary>
    [HttpGet("/versions/{id:guid}/loupe.png")]
    public async Task<IActionResult> Loupe(
        Guid id,
        string print,
        string ground,
        double x,
        double y,
        int? film,
        int? after,
        double? mm,
        CancellationToken cancel
    )
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (await loupes.LookAsync(read, new(print, ground, x, y, film, after, mm), cancel) is not { } png)
            return NotFound();
        Response.Headers.CacheControl = "private, max-age=3600";
        return File(png, "image/png");
    }
}
