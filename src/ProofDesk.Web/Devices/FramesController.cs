using Microsoft.AspNetCore.Mvc;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Devices;

/// <summary>The shop's frame templates: the page of one, and the versions of it. They are listed with the devices.</summary>
[Route("/frames")]
public sealed class FramesController(ShopFrames frames) : Controller
{
    [HttpGet("new")]
    [Needs(Right.KeepMeans)]
    public IActionResult New() => View("Frame", new FramePage(new FrameForm(), []));

    [HttpPost("")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Create(FrameForm form, CancellationToken cancel)
    {
        var key = InkForms.KeyOf(form.Name ?? "");
        var taken = (await frames.HistoryAsync(key, cancel)).Count > 0;
        DevicesController.CheckKey(ModelState, form.Name, key, taken, "frame template");
        return await WriteAsync(key, form, [], cancel);
    }

    [HttpGet("{key}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(string key, CancellationToken cancel) =>
        await frames.HistoryAsync(key, cancel) is [var current, ..] history
            ? View("Frame", new FramePage(FrameForm.Of(current), history))
            : NotFound();

    [HttpPost("{key}")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Change(string key, FrameForm form, CancellationToken cancel) =>
        await frames.HistoryAsync(key, cancel) is [_, ..] history
            ? await WriteAsync(key, form, history, cancel)
            : NotFound();

    /// <summary>Takes the template off the page of devices. Devices that took it over keep it.</summary>
    [HttpPost("{key}/retirement")]
    [Needs(Right.KeepMeans)]
    public async Task<IActionResult> Retire(string key, int seen, CancellationToken cancel)
    {
        if (await frames.HistoryAsync(key, cancel) is not [var current, ..] history)
            return NotFound();
        return await frames.RetireAsync(key, seen, User.Identity!.Name!, cancel) is null
            ? Late(FrameForm.Of(current), history)
            : Redirect("/devices");
    }

    private async Task<IActionResult> WriteAsync(
        string key,
        FrameForm form,
        IReadOnlyList<ShopFrame> history,
        CancellationToken cancel
    )
    {
        var record = form.Record();
        DevicesController.Say(ModelState, record.Problems());
        if (!ModelState.IsValid)
        {
            return this.Again("Frame", new FramePage(form, history));
        }
        return await frames.WriteAsync(key, record, form.Seen, User.Identity!.Name!, cancel) is null
            ? Late(form, history)
            : Redirect($"/frames/{key}");
    }

    private ViewResult Late(FrameForm form, IReadOnlyList<ShopFrame> history)
    {
        ModelState.AddModelError("", DevicesController.Late);
        Response.StatusCode = StatusCodes.Status409Conflict;
        return View("Frame", new FramePage(form, history));
    }
}
