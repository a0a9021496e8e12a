using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Advice;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Advice;

/// <summary>Which methods can print an order's art, asked for its cloths or for another one, in its quantity or in another.</summary>
[Needs(Right.ReadOrders)]
public sealed class AdviceController(
    OrderBook book,
    OfficeDb db,
    MethodStudies studies,
    ShopRates rates,
    Garments garments,
    ServerSettings settings
) : Controller
{
    public const int MostPieces = 100_000;

    /// <summary>A study that is kept is there at once; for a new one the page says how far it is and comes back.</summary>
    internal static readonly TimeSpan Patience = TimeSpan.FromSeconds(1.5);

    [HttpGet("/orders/{id:guid}/advice")]
    public async Task<IActionResult> Show(Guid id, int print, int? pieces, string? ground, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints.Count: > 0, Lines.Count: > 0 } order)
            return NotFound();
        var asked = ProofOrder.Of(order, settings);
        var chosen = asked.Prints[Math.Clamp(print, 0, asked.Prints.Length - 1)];
        var cloth = string.IsNullOrEmpty(ground) ? null : garments.Find(ground);
        var quantity = Math.Clamp(pieces ?? Math.Max(1, asked.Pieces), 1, MostPieces);
        var on = cloth is null
            ? asked
            : asked with
            {
                Lines = [new(cloth.Garment.Id, cloth.Colour.Id, [new("M", quantity)])],
            };
        var state = await studies.ReadAsync(on, chosen, Patience, cancel);
        if (state.Study is not { } study)
            return View("Counting", new CountingPage(order, "Which methods can", state.Tried));
        var card = await rates.CurrentAsync(cancel);
        return View(
            "Advice",
            new AdvicePage(
                order,
                asked,
                chosen,
                Array.IndexOf([.. asked.Prints], chosen),
                quantity,
                cloth,
                garments.Grounds,
                study,
                study.Problem is null ? Advisor.Of(study.Trials, card, quantity) : [],
                await db.CurrencyAsync(cancel)
            )
        );
    }
}
