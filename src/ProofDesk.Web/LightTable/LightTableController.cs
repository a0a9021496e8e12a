using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.LightTable;

/// <summary>
/// The films of a version on the light table. What is changed on them belongs to the order and makes its next version; the
/// version that is looked at stays as it was.
/// </summary>
[Route("/versions/{id:guid}/light-table")]
public sealed class LightTableController(
    VersionReader versions,
    FilmSheets sheets,
    OfficeDb db,
    OrderBook book,
    RenderRequests renders
) : Controller
{
    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(Guid id, TableQuery query, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return await MakingAsync(id, query, cancel);
        var order = (await book.FindAsync(read.Version.OrderId, cancel))!;
        var page = LightTablePage.Of(read, query, order).Over(await BeforeAsync(read.Version, order, cancel));
        var work = PrintOf(order, page.Print.Key) is { } print ? PrintOptions.Of(print.Options).HandWork : null;
        return View(
            "LightTable",
            page.With(HandForms.Of(page.Print, work ?? HandWork.None, order.RowVersion), order, work)
        );
    }

    /// <summary>One film as a clear sheet with its ink.</summary>
    [HttpGet("film.png")]
    [Needs(Right.ReadOrders)]
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
        var page = LightTablePage.Of(read, new() { Print = print, Ground = ground });
        if (page.Films.FirstOrDefault(f => f.Plate.Screen == screen) is not { } film)
            return NotFound();
        if (read.File(film.Plate.ViewPath) is not { } view)
            return NotFound();
        var colour = lay == "before" ? LaidFilm.Went : film.Drawn(LightTablePage.LayOf(lay));
        var png = await sheets.DrawAsync(view.Sha256, colour, cancel);
        Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return File(png, DerivedPictures.Png);
    }

    /// <summary>Keeps the hand work with the order and asks for the version that has it.</summary>
    [HttpPost("")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> Change(Guid id, TableQuery query, HandForm form, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var order = (await book.FindAsync(read.Version.OrderId, cancel))!;
        var page = LightTablePage.Of(read, query, order);
        var print = PrintOf(order, page.Print.Key);
        var before = print is null ? null : PrintOptions.Of(print.Options);
        var work = HandForms.Read(form, page.Print, before?.HandWork, ModelState);
        if (print is null)
            ModelState.AddModelError(
                "",
                $"The order has no print at {page.Print.Place} any more, so there are no films to change. Look at the order."
            );
        if (ModelState.IsValid && IsAsItIs(page, before, work))
            ModelState.AddModelError(
                "",
                $"Nothing is changed: the films of version {read.Version.Number} are made exactly so. Change a film first."
            );
        if (!ModelState.IsValid)
            return Again(page, form, order, StatusCodes.Status422UnprocessableEntity);
        var changed = (before! with { HandWork = work.IsNone ? null : work }).ToJson();
        var actor = User.Identity!.Name!;
        if (
            page.IsSuperseded
            || !await book.ChooseAsync(
                order.Id,
                form.RowVersion,
                print!.Position,
                changed,
                Note(page.Print, work),
                actor,
                cancel
            )
        )
        {
            ModelState.AddModelError(
                "",
                "Somebody else changed this order meanwhile, and nothing was written. What you typed is still in the fields below: compare it with the order, then send it from a freshly loaded light table."
            );
            return Again(page, form, order, StatusCodes.Status409Conflict);
        }
        var next = await renders.AskAsync(order.Id, actor, cancel);
        return Redirect($"/versions/{next}/light-table?{page.PrintAndGround}");
    }

    /// <summary>A version that is not finished yet, or will not be.</summary>
    private async Task<IActionResult> MakingAsync(Guid id, TableQuery query, CancellationToken cancel)
    {
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(v => v.Order)
            .FirstOrDefaultAsync(v => v.Id == id, cancel);
        if (version is null)
            return NotFound();
        var last = await db
            .ProofVersions.AsNoTracking()
            .Where(v => v.OrderId == version.OrderId && v.ManifestSha256 != null)
            .OrderByDescending(v => v.Number)
            .FirstOrDefaultAsync(cancel);
        return View("Making", new MakingPage(version, last, await renders.ViewAsync(id, cancel), query));
    }

    private async Task<ReadVersion?> BeforeAsync(ProofVersion version, Order order, CancellationToken cancel) =>
        order.Versions.Find(v => v.Number < version.Number && v.ManifestSha256 is not null) is { } before
            ? await versions.FindAsync(before.Id, cancel)
            : null;

    private ViewResult Again(LightTablePage page, HandForm form, Order order, int status)
    {
        Response.StatusCode = status;
        var work = PrintOf(order, page.Print.Key) is { } print ? PrintOptions.Of(print.Options).HandWork : null;
        return View("LightTable", page.With(HandForms.FilledUp(form, page.Print), order, work, cameBack: true));
    }

    private static bool IsAsItIs(LightTablePage page, PrintOptions? order, HandWork work) =>
        work.Equals(page.HandWork) && work.Equals(order?.HandWork ?? HandWork.None);

    private static OrderPrint? PrintOf(Order order, string key) =>
        order.Prints.Find(print => ProofOrderPrint.Of(print).Key == key);

    private static string Note(PrintSummary print, HandWork work) =>
        work.IsNone
            ? $"{print.Name}: films put back to as made"
            : $"{print.Name}, changed by hand: {string.Join(", ", work.Plates.Select(p => p.Plate))}";
}

/// <param name="Last">The newest version whose films can be looked at.</param>
public sealed record MakingPage(ProofVersion Version, ProofVersion? Last, RenderView? Work, TableQuery Query)
{
    public string PrintAndGround =>
        $"print={Uri.EscapeDataString(Query.Print ?? "")}&ground={Uri.EscapeDataString(Query.Ground ?? "")}";
}
