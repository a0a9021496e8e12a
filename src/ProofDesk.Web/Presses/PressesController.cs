using System.Text;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Files;
using ProofDesk.Printing.TestForms;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;
using Meshes = ProofDesk.Printing.Inks.Meshes;

namespace ProofDesk.Web.Presses;

/// <summary>The shop's presses: the list, the test form, the page of one, and the versions of it.</summary>
[Route("/presses")]
public sealed class PressesController(ShopPresses presses, PressForms forms, Garments garments, ServerSettings settings)
    : Controller
{
    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> List(CancellationToken cancel)
    {
        var all = await presses.ListAsync(withRetired: true, cancel);
        return View(
            "Presses",
            new PressesPage(
                [.. all.Where(press => press.Row.RetiredAt is null)],
                [.. all.Where(press => press.Row.RetiredAt is not null)]
            )
        );
    }

    [HttpGet("new")]
    [Needs(Right.KeepMeans)]
    public IActionResult New() => View("Press", Page(new PressForm(), []));

    /// <summary>Films of the test form and the blank reading sheet.</summary>
    [HttpGet("new/films.zip")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Films(string mesh, string ground, CancellationToken cancel)
    {
        if (Meshes.Find(mesh ?? "") is not { } chosen || garments.Find(ground ?? "") is not { } cloth)
            return NotFound();
        // Not disposed here: the answer reads it and deletes it with its last byte.
        var buffer = ScratchFile.Open();
        try
        {
            var form = FormFilms.Settings(chosen, cloth, settings.FilmDpi);
            await Task.Run(() => FormFilms.Zip(form, cloth, buffer, cancel), cancel);
            buffer.Position = 0;
            return File(buffer, "application/zip", $"test-form-{chosen.Label}.zip");
        }
        catch
        {
            await buffer.DisposeAsync();
            throw;
        }
    }

    /// <summary>The blank reading sheet alone.</summary>
    [HttpGet("new/readings.json")]
    [Needs(Right.KeepMeans)]
    public IActionResult Sheet(string mesh, string ground)
    {
        if (Meshes.Find(mesh ?? "") is not { } chosen || garments.Find(ground ?? "") is not { } cloth)
            return NotFound();
        var blank = ReadingSheetJson.Blank(FormFilms.Settings(chosen, cloth, settings.FilmDpi), cloth);
        return File(Encoding.UTF8.GetBytes(blank), "application/json", $"readings-{chosen.Label}.json");
    }

    [HttpPost("")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Create(PressForm form, CancellationToken cancel)
    {
        var key = InkForms.KeyOf(form.Name ?? "");
        if (!string.IsNullOrWhiteSpace(form.Name) && key.Length == 0)
            ModelState.AddModelError(nameof(form.Name), "The name has no letter or digit from a to z and 0 to 9.");
        if (key is "new" || (key.Length > 0 && (await presses.HistoryAsync(key, cancel)).Count > 0))
            ModelState.AddModelError(
                nameof(form.Name),
                $"There is a press \"{key}\" already. Read that one again, which keeps its history, or give this one another name."
            );
        return await WriteAsync(key, form, [], cancel);
    }

    [HttpGet("{key}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(string key, CancellationToken cancel) =>
        await presses.HistoryAsync(key, cancel) is [var current, ..] history
            ? View("Press", Page(PressForms.Of(current), history))
            : NotFound();

    [HttpPost("{key}")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Change(string key, PressForm form, CancellationToken cancel) =>
        await presses.HistoryAsync(key, cancel) is [_, ..] history
            ? await WriteAsync(key, form, history, cancel)
            : NotFound();

    /// <summary>Takes the press off the order form. Orders and proofs that name it keep it.</summary>
    [HttpPost("{key}/retirement")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Retire(string key, int seen, CancellationToken cancel)
    {
        if (await presses.HistoryAsync(key, cancel) is not [var current, ..] history)
            return NotFound();
        if (await presses.RetireAsync(key, seen, User.Identity!.Name!, cancel) is null)
            return Late(PressForms.Of(current), history);
        return Redirect("/presses");
    }

    private async Task<IActionResult> WriteAsync(
        string key,
        PressForm form,
        IReadOnlyList<ShopPress> history,
        CancellationToken cancel
    )
    {
        form.Name ??= "";
        var before = history.Count > 0 ? history[0].Definition : null;
        var press = await forms.ReadAsync(form, before, ModelState, cancel);
        if (press is null || !ModelState.IsValid)
        {
            return this.Again("Press", Page(form, history));
        }
        if (await presses.WriteAsync(key, press, form.Seen, User.Identity!.Name!, cancel) is null)
            return Late(form, history);
        return Redirect($"/presses/{key}");
    }

    private ViewResult Late(PressForm form, IReadOnlyList<ShopPress> history)
    {
        ModelState.AddModelError(
            "",
            "Somebody else changed this press meanwhile. Load the page again; what you typed is still in the fields below to copy."
        );
        Response.StatusCode = StatusCodes.Status409Conflict;
        return View("Press", Page(form, history));
    }

    private PressPage Page(PressForm form, IReadOnlyList<ShopPress> history) => new(form, history, garments.Grounds);
}
