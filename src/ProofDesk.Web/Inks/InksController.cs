using Microsoft.AspNetCore.Mvc;
using ProofDesk.Printing.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Inks;

/// <summary>The shop's inks: the list, the page of one, and the versions of it.</summary>
[Route("/inks")]
public sealed class InksController(ShopInks inks) : Controller
{
    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> List(CancellationToken cancel)
    {
        var all = await inks.ListAsync(withRetired: true, cancel);
        var defaults = InkLibrary.Default.Where(ink => InkDefinition.Kinds.Contains(ink.Kind));
        return View(
            "Inks",
            new InksPage(
                [.. all.Where(ink => ink.Row.RetiredAt is null).Select(Card).OfType<InkCard>()],
                [.. all.Where(ink => ink.Row.RetiredAt is not null)],
                [.. defaults.Select(ink => InkCard.Of(ink))]
            )
        );
    }

    [HttpGet("new")]
    [Needs(Right.KeepMeans)]
    public IActionResult New() => View("Ink", new InkPage(new InkForm(), [], null, []));

    [HttpPost("")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Create(InkForm form, CancellationToken cancel)
    {
        var key = InkForms.KeyOf(form.Name);
        if (key is "new" || (key.Length > 0 && (await inks.HistoryAsync(key, cancel)).Count > 0))
            ModelState.AddModelError(
                nameof(form.Name),
                $"There is an ink \"{key}\" already. Change that one, which keeps its history, or give this one another name."
            );
        return await WriteAsync(key, form, [], cancel);
    }

    [HttpGet("{key}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(string key, CancellationToken cancel) =>
        await inks.HistoryAsync(key, cancel) is [var current, ..] history
            ? View("Ink", Page(InkForms.Of(current), history))
            : NotFound();

    [HttpPost("{key}")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Change(string key, InkForm form, CancellationToken cancel) =>
        await inks.HistoryAsync(key, cancel) is [_, ..] history
            ? await WriteAsync(key, form, history, cancel)
            : NotFound();

    /// <summary>Takes the ink off the order form. Orders and proofs that name it keep it.</summary>
    [HttpPost("{key}/retirement")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Retire(string key, int seen, CancellationToken cancel)
    {
        if (await inks.HistoryAsync(key, cancel) is not [var current, ..] history)
            return NotFound();
        if (await inks.RetireAsync(key, seen, User.Identity!.Name!, cancel) is null)
            return Late(InkForms.Of(current), history);
        return Redirect("/inks");
    }

    private async Task<IActionResult> WriteAsync(
        string key,
        InkForm form,
        IReadOnlyList<ShopInk> history,
        CancellationToken cancel
    )
    {
        var before = history.Count > 0 ? history[0].Definition : null;
        var ink = await InkForms.ReadAsync(key, form, before, ModelState, cancel);
        if (ink is null || !ModelState.IsValid)
        {
            return this.Again("Ink", Page(form, history));
        }
        if (await inks.WriteAsync(ink, form.Seen, User.Identity!.Name!, cancel) is null)
            return Late(form, history);
        return Redirect($"/inks/{key}");
    }

    private ViewResult Late(InkForm form, IReadOnlyList<ShopInk> history)
    {
        ModelState.AddModelError(
            "",
            "Somebody else changed this ink meanwhile. Load the page again; what you typed is not kept."
        );
        Response.StatusCode = StatusCodes.Status409Conflict;
        return View("Ink", Page(form, history));
    }

    private InkPage Page(InkForm form, IReadOnlyList<ShopInk> history) =>
        history is [var current, ..]
            ? new(
                form,
                history,
                Card(current),
                [.. inks.Make(current).Problems.Select(p => p.ToString()), .. inks.Make(current).Warnings]
            )
            : new(form, history, null, []);

    private InkCard? Card(ShopInk ink) => inks.Make(ink).Ink is { } made ? InkCard.Of(made, ink) : null;
}
