using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Separations;
using ProofDesk.Web.Advice;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Quantity;

/// <summary>Cost per shirt against quantity of a print, by every method that can print it, from the shop's rate card.</summary>
[Needs(Right.ReadOrders)]
public sealed class QuantityController(
    OrderBook book,
    OfficeDb db,
    MethodStudies studies,
    ShopRates rates,
    ServerSettings settings
) : Controller
{
    public const string Manual = "manual";

    [HttpGet("/orders/{id:guid}/quantity")]
    public async Task<IActionResult> Show(
        Guid id,
        int print,
        int? pieces,
        string? press,
        string[]? method,
        string? sum,
        CancellationToken cancel
    )
    {
        if (await book.FindAsync(id, cancel) is not { Prints.Count: > 0, Lines.Count: > 0 } order)
            return NotFound();
        var asked = ProofOrder.Of(order, settings);
        var at = Math.Clamp(print, 0, asked.Prints.Length - 1);
        var state = await studies.ReadAsync(asked, asked.Prints[at], AdviceController.Patience, cancel);
        if (state.Study is not { } study)
            return View("/Advice/Counting.cshtml", new CountingPage(order, "Cost by quantity", state.Tried));
        var query = new QuantityQuery(
            at,
            Math.Clamp(pieces ?? Math.Max(1, asked.Pieces), 1, QuantityPage.MostPieces),
            press == Manual ? PressClass.Manual : PressClass.Automatic,
            [.. method ?? []],
            sum ?? asked.Prints[at].Method
        );
        var currency = await db.CurrencyAsync(cancel);
        return View(
            "Quantity",
            new QuantityPage(order, asked, query, study.Trials, await rates.CurrentAsync(cancel), currency)
        );
    }
}
