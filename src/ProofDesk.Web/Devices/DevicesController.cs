using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Devices;

/// <summary>The shop's output devices: the list, the page of one, and the versions of it.</summary>
[Route("/devices")]
public sealed class DevicesController(ShopDevices devices, ShopFrames frames, ServerSettings settings) : Controller
{
    internal const string Late =
        "Somebody else changed this meanwhile. Load the page again; what you typed is still in the fields below to copy.";

    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> List(CancellationToken cancel) =>
        View(
            "Devices",
            new DevicesPage(
                await devices.ListAsync(withRetired: true, cancel),
                await frames.ListAsync(withRetired: true, cancel),
                settings.FilmDpi
            )
        );

    [HttpGet("new")]
    [Needs(Right.KeepMeans)]
    public Task<IActionResult> New(CancellationToken cancel) => PageAsync(new DeviceForm(), [], cancel);

    [HttpPost("")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Create(DeviceForm form, CancellationToken cancel)
    {
        var key = InkForms.KeyOf(form.Name ?? "");
        CheckKey(ModelState, form.Name, key, (await devices.HistoryAsync(key, cancel)).Count > 0, "device");
        return await WriteAsync(key, form, [], cancel);
    }

    [HttpGet("{key}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(string key, CancellationToken cancel) =>
        await devices.HistoryAsync(key, cancel) is [var current, ..] history
            ? await PageAsync(DeviceForm.Of(current), history, cancel)
            : NotFound();

    [HttpPost("{key}")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Change(string key, DeviceForm form, CancellationToken cancel) =>
        await devices.HistoryAsync(key, cancel) is [_, ..] history
            ? await WriteAsync(key, form, history, cancel)
            : NotFound();

    /// <summary>Takes the device off the order form. Orders and proofs that name it keep it.</summary>
    [HttpPost("{key}/retirement")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Retire(string key, int seen, CancellationToken cancel)
    {
        if (await devices.HistoryAsync(key, cancel) is not [var current, ..] history)
            return NotFound();
        if (await devices.RetireAsync(key, seen, User.Identity!.Name!, cancel) is not null)
            return Redirect("/devices");
        return await LateAsync(DeviceForm.Of(current), history, cancel);
    }

    private async Task<IActionResult> WriteAsync(
        string key,
        DeviceForm form,
        IReadOnlyList<ShopDevice> history,
        CancellationToken cancel
    )
    {
        ShopFrame? frame = null;
        if (form.Frame is { Length: > 0 } chosen)
        {
            frame = await frames.HistoryAsync(chosen, cancel) is [var newest, ..] ? newest : null;
            if (frame is null)
                ModelState.AddModelError(nameof(form.Frame), "Choose one of the frame templates in the list.");
        }
        var record = form.Record(frame?.Record, out var wrongTones);
        if (wrongTones is not null)
            ModelState.AddModelError(nameof(form.TonesPercent), Words.Sentence(wrongTones));
        else
            Say(ModelState, record.Problems());
        if (!ModelState.IsValid)
        {
            this.ToMend();
            return await PageAsync(form, history, cancel);
        }
        var device = new DeviceDefinition(record, frame?.Row.Key, frame?.Row.Version);
        return await devices.WriteAsync(key, device, form.Seen, User.Identity!.Name!, cancel) is null
            ? await LateAsync(form, history, cancel)
            : Redirect($"/devices/{key}");
    }

    private async Task<IActionResult> LateAsync(
        DeviceForm form,
        IReadOnlyList<ShopDevice> history,
        CancellationToken cancel
    )
    {
        ModelState.AddModelError("", Late);
        Response.StatusCode = StatusCodes.Status409Conflict;
        return await PageAsync(form, history, cancel);
    }

    private async Task<IActionResult> PageAsync(
        DeviceForm form,
        IReadOnlyList<ShopDevice> history,
        CancellationToken cancel
    ) => View("Device", new DevicePage(form, history, await frames.ListAsync(withRetired: true, cancel)));

    internal static void CheckKey(ModelStateDictionary state, string? name, string key, bool taken, string what)
    {
        if (!string.IsNullOrWhiteSpace(name) && key.Length == 0)
            state.AddModelError("Name", "The name has no letter or digit from a to z and 0 to 9.");
        if (key is "new" || taken)
            state.AddModelError(
                "Name",
                $"There is a {what} \"{key}\" already. Change that one, which keeps its history, or give this one another name."
            );
    }

    internal static void Say(ModelStateDictionary state, IEnumerable<FieldProblem> problems)
    {
        foreach (var problem in problems.Where(p => !p.Field.Contains('.', StringComparison.Ordinal)))
            state.AddModelError(problem.Field, Words.Sentence(problem.What));
    }
}
