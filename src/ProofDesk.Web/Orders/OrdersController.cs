using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <summary>Orders: the form that makes one, and its page.</summary>
public sealed class OrdersController(
    OfficeDb db,
    OrderBook book,
    OrderForms forms,
    OrderTaking taking,
    Garments garments,
    RenderRequests renders,
    Invitations invitations,
    VersionReader versions,
    ShopInks inks,
    ShopPresses presses,
    ShopDevices devices
) : Controller
{
    private const int TrailRows = 50;

    [HttpGet("/orders/new")]
    [Needs(Right.TakeOrders)]
    public async Task<IActionResult> New(OrderChoice choice, CancellationToken cancel)
    {
        var form = new OrderForm { Currency = await db.CurrencyAsync(cancel) };
        choice.FillIn(form, garments);
        // What the address said is in the form now; read again it would win over it.
        ModelState.Clear();
        return await FormAsync(form);
    }

    [HttpPost("/orders")]
    [Needs(Right.TakeOrders)]
    public async Task<IActionResult> Create(OrderForm form, CancellationToken cancel)
    {
        var art = await forms.StoreArtAsync(form, ModelState, cancel);
        form.Currency = await db.CurrencyAsync(cancel);
        await forms.CheckAsync(form, ModelState, cancel);
        if (!ModelState.IsValid || art is null)
        {
            this.ToMend();
            return await FormAsync(form);
        }
        var actor = User.Identity!.Name!;
        var orderId = await taking.CreateAsync(form, art, null, actor, cancel);
        if (await taking.AskAsync(orderId, art, null, form.Words, actor, cancel) is null)
            return Redirect($"/orders/{orderId}/{(art.IsOpaque ? "background" : "words")}");
        return Redirect($"/orders/{orderId}");
    }

    [HttpGet("/orders/{id:guid}")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(Guid id, bool late, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { } order)
            return NotFound();
        var decisions = await db
            .Decisions.AsNoTracking()
            .Where(d => d.OrderId == id)
            .OrderByDescending(d => d.LeafIndex)
            .ToListAsync(cancel);
        var mails = await db
            .OutboxMails.AsNoTracking()
            .Where(m => m.OrderId == id)
            .OrderByDescending(m => m.CreatedAt)
            .ToListAsync(cancel);
        var trail = await db
            .AuditEvents.AsNoTracking()
            .Where(a => a.OrderId == id)
            .OrderByDescending(a => a.At)
            .Take(TrailRows)
            .ToListAsync(cancel);
        var events = await db
            .LoggedEvents.AsNoTracking()
            .Where(e => e.OrderId == id)
            .OrderByDescending(e => e.LeafIndex)
            .ToListAsync(cancel);
        var shop = await db.Shop.AsNoTracking().SingleAsync(cancel);
        var work = await renders.ViewAsync(order.Versions.FirstOrDefault()?.Id, cancel);
        var links = await invitations.OfOrderAsync(id, cancel);
        var finished = order.Versions.FirstOrDefault(v => v.ManifestSha256 is not null);
        var shown = finished is null ? null : await versions.FindAsync(finished.Id, cancel);
        return View(
            "Order",
            new OrderPage(order, decisions, mails, trail, work, garments, links, shown)
            {
                IsLate = late,
                Events = events,
                Currency = shop.Currency,
                Asked = EvidenceAsked.Of(order, shop),
            }
        );
    }

    private async Task<IActionResult> FormAsync(OrderForm form)
    {
        var clients = await db.Clients.AsNoTracking().OrderBy(c => c.Name).Take(500).ToListAsync();
        OrderForms.FillUp(form);
        return View(
            "New",
            new NewOrderPage(
                form,
                clients,
                garments.Grounds,
                garments.Sizes,
                await inks.ListAsync(),
                await presses.ListAsync(),
                await devices.ListAsync()
            )
        );
    }
}
