using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Proofs;

/// <summary>The staff's page of one version: everything that is bound, to look at and to measure.</summary>
[Needs(Right.ReadOrders)]
public sealed class ProofsController(VersionReader versions, LoupeDesk loupes, OfficeDb db) : Controller
{
    [HttpGet("/versions/{id:guid}")]
    public async Task<IActionResult> Show(
        Guid id,
        string? print,
        string? ground,
        double? x,
        double? y,
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
        return View("Proof", ProofPage.Of(read, print, ground, x, y, newest, decision));
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
