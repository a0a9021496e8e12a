using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Costs;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;

namespace ProofDesk.Web.Rates;

/// <summary>The shop's rate card and its versions.</summary>
[Route("/rates")]
public sealed class RatesController(ShopRates rates, OfficeDb db) : Controller
{
    [HttpGet("")]
    [Needs(Right.ReadHouse)]
    public async Task<IActionResult> Show(CancellationToken cancel)
    {
        var history = await rates.HistoryAsync(cancel);
        var form = history is [var newest, ..]
            ? RatesForm.Of(newest.Card, newest.Row.Version)
            : RatesForm.Of(RateCard.CommonPractice, 0);
        return await PageAsync(form, history, cancel);
    }

    [HttpPost("")]
    [Needs(Right.RuleShop)]
    public async Task<IActionResult> Write(RatesForm form, CancellationToken cancel)
    {
        var card = form.Card(ModelState);
        if (!ModelState.IsValid)
        {
            this.ToMend();
            return await PageAsync(form, await rates.HistoryAsync(cancel), cancel);
        }
        if (await rates.WriteAsync(card, form.Seen, User.Identity!.Name!, cancel) is not null)
            return Redirect("/rates");
        ModelState.AddModelError("", DevicesController.Late);
        Response.StatusCode = StatusCodes.Status409Conflict;
        return await PageAsync(form, await rates.HistoryAsync(cancel), cancel);
    }

    private async Task<ViewResult> PageAsync(
        RatesForm form,
        IReadOnlyList<ShopRateCard> history,
        CancellationToken cancel
    ) => View("Rates", new RatesPage(form, history, await db.CurrencyAsync(cancel)));
}
