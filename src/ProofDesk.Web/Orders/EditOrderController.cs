using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <summary>Changes an order. What was sent stays as it was; the change makes the next version.</summary>
[Needs(Right.WorkOnArt)]
[Route("/orders/{id:guid}/edit")]
public sealed class EditOrderController(
    OfficeDb db,
    OrderBook book,
    OrderForms forms,
    Garments garments,
    RenderRequests renders,
    ShopInks inks,
    ShopPresses presses,
    ShopDevices devices
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> Edit(Guid id, OrderChoice choice, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [_, ..] } order)
            return NotFound();
        var form = OrderForms.Of(order, await db.CurrencyAsync(cancel));
        choice.Ground = null;
        choice.FillIn(form, garments);
        // What the address said is in the form now; read again it would win over it.
        ModelState.Clear();
        return View("New", await PageAsync(order, form));
    }

    [HttpPost("")]
    public async Task<IActionResult> Update(Guid id, OrderForm form, long rowVersion, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        // An order keeps its client; whoever may not see the address does not send it back either.
        (form.ClientName, form.ClientEmail) = (order.Client!.Name, order.Client.Email);
        ModelState.Remove(nameof(form.ClientName));
        ModelState.Remove(nameof(form.ClientEmail));
        var options = PrintOptions.Of(print.Options);
        var samePage = (form.PdfPage ?? 1) == (options.PdfPage ?? 1);
        var art =
            forms.BringsArt(form) ? await forms.StoreArtAsync(form, ModelState, cancel)
            : samePage ? new UploadedArt(print.ArtSha256, print.ArtFileName, print.ArtMediaType)
            : await forms.ReadArtAsync(print.ArtSha256, print.ArtFileName, form, ModelState, cancel);
        form.Currency = await db.CurrencyAsync(cancel);
        await forms.CheckAsync(form, ModelState, cancel);
        if (!ModelState.IsValid || art is null)
        {
            return this.Again("New", await PageAsync(order, form));
        }
        var actor = User.Identity!.Name!;
        var draft = OrderForms.Draft(form, order.ClientId, art);
        // The answer about the background belongs to the art it was given for.
        draft.Prints[0].Background = !forms.BringsArt(form) && samePage ? print.Background : "";
        // What the form does not ask stays as it was chosen elsewhere.
        draft.Prints[0].Options = OrderForms.Options(form, options).ToJson();
        if (!await book.EditAsync(id, rowVersion, draft, actor, cancel))
        {
            ModelState.AddModelError(
                "",
                "Somebody else changed this order meanwhile. Load the page again; what you typed is not kept."
            );
            Response.StatusCode = StatusCodes.Status409Conflict;
            return View("New", await PageAsync(order, form));
        }
        if (art.IsOpaque)
            return Redirect($"/orders/{id}/background");
        if (art.HasWords && string.IsNullOrWhiteSpace(form.Words))
            return Redirect($"/orders/{id}/words");
        await renders.AskAsync(id, actor, cancel);
        return Redirect($"/orders/{id}");
    }

    private async Task<NewOrderPage> PageAsync(Order order, OrderForm form)
    {
        OrderForms.FillUp(form);
        return new NewOrderPage(
            form,
            [],
            garments.Grounds,
            garments.Sizes,
            await inks.ListAsync(withRetired: true),
            await presses.ListAsync(withRetired: true),
            await devices.ListAsync(withRetired: true),
            order
        );
    }
}
