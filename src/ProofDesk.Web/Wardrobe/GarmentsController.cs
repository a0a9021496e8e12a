using Microsoft.AspNetCore.Mvc;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Wardrobe;

/// <summary>Garments: the list, the page of one, and the versions of the shop's own. Those that ship are looked at and taken over.</summary>
[Route("/garments")]
public sealed class GarmentsController(Start.Garments garments, ShopGarments own, GarmentPictures pictures) : Controller
{
    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> List(CancellationToken cancel) =>
        View("Garments", new GarmentsPage(garments.Shipped, await own.ListAsync(withRetired: true, cancel)));

    [HttpGet("new")]
    [Needs(Right.KeepMeans)]
    public IActionResult New(string from = "tee") =>
        Based(from) is { } based ? Page(null, FormOf(based, from, 0), based, []) : NotFound();

    [HttpPost("")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Create(GarmentForm form, CancellationToken cancel)
    {
        if (Based(form.From) is not { } based)
            return NotFound();
        var key = InkForms.KeyOf(form.Name ?? "");
        var taken = key.Length > 0 && (await own.HistoryAsync(key, cancel)).Count > 0;
        DevicesController.CheckKey(ModelState, form.Name, key, taken, "garment");
        return await WriteAsync(key, form, based, [], cancel);
    }

    [HttpGet("{key}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(string key, CancellationToken cancel)
    {
        if (garments.Shipped.FirstOrDefault(g => g.Id == key) is { } shipped)
            return Page(key, FormOf(shipped, null, 0), shipped, []);
        return await OwnAsync(key, cancel) is [var current, ..] history
            ? Page(key, FormOf(current.Garment, null, current.Row.Version), current.Garment, history)
            : NotFound();
    }

    [HttpPost("{key}")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Change(string key, GarmentForm form, CancellationToken cancel) =>
        await OwnAsync(key, cancel) is [var current, ..] history
            ? await WriteAsync(current.Row.Key, form, current.Garment, history, cancel)
            : NotFound();

    /// <summary>Takes the garment off the order form. Orders and proofs that name it keep it.</summary>
    [HttpPost("{key}/retirement")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Retire(string key, int seen, CancellationToken cancel)
    {
        if (await OwnAsync(key, cancel) is not [var current, ..] history)
            return NotFound();
        return await own.RetireAsync(current.Row.Key, seen, User.Identity!.Name!, cancel) is null
            ? Late(key, FormOf(current.Garment, null, current.Row.Version), current.Garment, history)
            : Redirect("/garments");
    }

    /// <summary>The bare garment in one colour, small.</summary>
    [HttpGet("{key}/{name}.png")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Picture(string key, string name, CancellationToken cancel) =>
        garments.Find(key, name) is { } ground ? File(await pictures.OfAsync(ground, cancel), "image/png") : NotFound();

    private async Task<IReadOnlyList<ShopGarment>> OwnAsync(string id, CancellationToken cancel) =>
        id.StartsWith(ShopGarments.Prefix, StringComparison.Ordinal)
            ? await own.HistoryAsync(id[ShopGarments.Prefix.Length..], cancel)
            : [];

    private Garment? Based(string? from) =>
        garments.Shipped.FirstOrDefault(g => g.Id == from) ?? own.Find(from ?? "")?.Garment;

    private static GarmentForm FormOf(Garment garment, string? from, int seen)
    {
        var form = GarmentForms.Of(garment, garment.File.AsSpan());
        (form.From, form.Seen) = (from, seen);
        if (from is not null)
            form.Name = null;
        return form;
    }

    private async Task<IActionResult> WriteAsync(
        string key,
        GarmentForm form,
        Garment based,
        IReadOnlyList<ShopGarment> history,
        CancellationToken cancel
    )
    {
        var id = ShopGarments.Prefix + key;
        if (GarmentForms.Write(id, form, based.File.AsSpan(), ModelState) is not { } file)
        {
            this.ToMend();
            return Page(history.Count > 0 ? id : null, form, based, history);
        }
        return await own.WriteAsync(key, file, form.Seen, User.Identity!.Name!, cancel) is null
            ? Late(id, form, based, history)
            : Redirect($"/garments/{id}");
    }

    private ViewResult Late(string id, GarmentForm form, Garment based, IReadOnlyList<ShopGarment> history)
    {
        ModelState.AddModelError("", DevicesController.Late);
        Response.StatusCode = StatusCodes.Status409Conflict;
        return Page(id, form, based, history);
    }

    private ViewResult Page(string? id, GarmentForm form, Garment based, IReadOnlyList<ShopGarment> history)
    {
        // What was typed comes back with its own empty rows.
        if (Request.Method == "GET")
            GarmentForms.AddSpare(form, based);
        return View("Garment", new GarmentPage(id, form, based, history));
    }
}

/// <param name="Own">Newest versions, the retired too.</param>
public sealed record GarmentsPage(IReadOnlyList<Garment> Shipped, IReadOnlyList<ShopGarment> Own);

/// <param name="Id">Null for a new garment.</param>
/// <param name="Based">The garment as it is kept, or that a new one is made from.</param>
/// <param name="History">Versions, the newest first; empty for one that ships and for a new one.</param>
public sealed record GarmentPage(string? Id, GarmentForm Form, Garment Based, IReadOnlyList<ShopGarment> History)
{
    public ShopGarment? Current => History.Count > 0 ? History[0] : null;

    /// <summary>Ships with the desk: looked at, and a new one made from it.</summary>
    public bool IsShipped => Id is not null && Current is null;

    public GarmentPhotograph? Photograph =>
        Based.Shape?.Views.Select(v => v.Photograph).FirstOrDefault(p => p is not null);
}
