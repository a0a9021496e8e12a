using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.LightTable;

/// <summary>Looks at the films of a version on the light table.</summary>
[Route("/versions/{id:guid}/light-table")]
public sealed class LightTableController(VersionReader versions, FilmSheets sheets, OfficeDb db) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> Show(Guid id, TableQuery query, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var newest = await db
            .ProofVersions.Where(v => v.OrderId == read.Version.OrderId && v.ManifestSha256 != null)
            .OrderByDescending(v => v.Number)
            .Select(v => new { v.Number, v.Id })
            .FirstAsync(cancel);
        return View("LightTable", LightTablePage.Of(read, query, newest.Number, newest.Id));
    }

    /// <summary>One film as a clear sheet with its ink.</summary>
    [HttpGet("film.png")]
    public async Task<IActionResult> Sheet(
        Guid id,
        string? print,
        string? ground,
        int screen,
        string? lay,
        CancellationToken cancel
    )
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var page = LightTablePage.Of(read, new() { Print = print, Ground = ground }, 0, id);
        if (page.Films.FirstOrDefault(f => f.Plate.Screen == screen) is not { } film)
            return NotFound();
        if (read.File(film.Plate.ViewPath) is not { } view)
            return NotFound();
        var png = await sheets.DrawAsync(view.Sha256, film.Drawn(LightTablePage.LayOf(lay)), cancel);
        Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return File(png, DerivedPictures.Png);
    }
}
