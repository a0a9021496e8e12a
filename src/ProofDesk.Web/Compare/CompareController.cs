using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Compare;

/// <summary>Compare sheets on the desk: the list, a new one, one of them with its pictures, as one picture, as pages.</summary>
[Route("/compare")]
public sealed class CompareController(
    SheetBook book,
    SheetForms forms,
    SheetPages pages,
    SheetPng png,
    SheetPdf pdf,
    Garments garments,
    DerivedPictures derived,
    ServerSettings settings
) : Controller
{
    private const int MostListed = 100;

    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> List(CancellationToken cancel) =>
        View("Sheets", await book.ListAsync(MostListed, cancel));

    [HttpGet("new")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> New(Guid? order, int print, CancellationToken cancel)
    {
        if (order is not { } id)
            return Form(forms.Begin());
        return await forms.PrintAsync(id, print, cancel) is { } found
            ? Form(forms.Begin(found.Order, found.Print))
            : NotFound();
    }

    [HttpPost("")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> Create(CompareForm form, CancellationToken cancel)
    {
        if (await forms.MakeAsync(form, ModelState, cancel) is { } sheet)
            return Redirect($"/compare/{await book.AddAsync(sheet, User.Identity!.Name!, cancel)}");
        this.ToMend();
        return Form(form);
    }

    [HttpGet("{sheetId:guid}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(Guid sheetId, string? view, CancellationToken cancel) =>
        await pages.FindAsync(sheetId, $"/compare/{sheetId}", cancel) is { } page
            ? View("Sheet", page with { View = view == SheetPage.GarmentView ? view : SheetPage.PrintView })
            : NotFound();

    [HttpPost("{sheetId:guid}/stop")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> Stop(Guid sheetId, CancellationToken cancel)
    {
        if (await book.FindAsync(sheetId, cancel) is null)
            return NotFound();
        await book.StopAsync(sheetId, User.Identity!.Name!, cancel);
        return Redirect($"/compare/{sheetId}");
    }

    [HttpPost("{sheetId:guid}/retries")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> TryAgain(Guid sheetId, CancellationToken cancel)
    {
        if (await book.FindAsync(sheetId, cancel) is null)
            return NotFound();
        await book.TryAgainAsync(sheetId, User.Identity!.Name!, cancel);
        return Redirect($"/compare/{sheetId}");
    }

    /// <summary>One picture of one cell, no wider than asked for.</summary>
    [HttpGet("{sheetId:guid}/cells/{cellId:guid}/w{width:int:range(64,900)}/{picture:regex(^(print|garment)$)}.png")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Picture(
        Guid sheetId,
        Guid cellId,
        int width,
        string picture,
        CancellationToken cancel
    ) =>
        await book.CellAsync(sheetId, cellId, cancel) is { } cell && CellPictures.Of(cell, picture) is { } sha256
            ? await this.PictureAsync(derived, sha256, width, cancel)
            : NotFound();

    [HttpGet("{sheetId:guid}/sheet.png")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> AsPicture(Guid sheetId, CancellationToken cancel) =>
        await pages.FindAsync(sheetId, "", cancel) is { } page
            ? File(await png.DrawAsync(page.Drawn(settings.ShopName), cancel), "image/png", "compare-sheet.png")
            : NotFound();

    [HttpGet("{sheetId:guid}/sheet.pdf")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> AsPages(Guid sheetId, CancellationToken cancel) =>
        await pages.FindAsync(sheetId, "", cancel) is { } page
            ? File(await pdf.DrawAsync(page.Drawn(settings.ShopName), cancel), "application/pdf", "compare-sheet.pdf")
            : NotFound();

    private ViewResult Form(CompareForm form) => View("NewSheet", new NewSheetPage(form, garments.All));
}

/// <param name="Garments">Every garment on offer.</param>
public sealed record NewSheetPage(
    CompareForm Form,
    System.Collections.Immutable.ImmutableArray<Printing.Garments.Garment> Garments
);

/// <summary>Pictures of cells, for the desk and for holders of links.</summary>
internal static class CellPictures
{
    /// <summary>Pictures never change, but who may see them does: a browser asks again after ten minutes.</summary>
    public const string Kept = "private, max-age=600";

    public static string? Of(SheetCell cell, string picture) =>
        picture == SheetPage.GarmentView ? cell.GarmentSha256 : cell.PrintSha256;

    public static async Task<IActionResult> PictureAsync(
        this Controller controller,
        DerivedPictures derived,
        string sha256,
        int width,
        CancellationToken cancel
    )
    {
        var png = await derived.ScaledAsync(sha256, width, cancel);
        controller.Response.Headers.CacheControl = Kept;
        return controller.File(png, DerivedPictures.Png);
    }
}
