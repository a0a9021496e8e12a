using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Documents;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Tickets;

/// <param name="Paper">what the page's print style is for</param>
public sealed record TicketPage(TicketSet Set, PaperSize Paper);

/// <summary>The press ticket on the screen, for the printer of the browser, and as PDF.</summary>
[Needs(Right.ReadOrders)]
public sealed class TicketsController(TicketReader tickets, DerivedPictures pictures) : Controller
{
    [HttpGet("/versions/{id:guid}/ticket")]
    public async Task<IActionResult> Show(Guid id, string? paper, CancellationToken cancel) =>
        await tickets.FindAsync(id, cancel) is { } set
            ? View("Ticket", new TicketPage(set, PaperSize.Of(paper)))
            : NotFound();

    [HttpGet("/versions/{id:guid}/ticket.pdf")]
    public async Task<IActionResult> Pdf(Guid id, string? paper, CancellationToken cancel)
    {
        if (await tickets.FindAsync(id, cancel) is not { } set)
            return NotFound();
        var flat = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (var ticket in set.Tickets)
            flat[ticket.Print.Key] = await pictures.JpegAsync(
                set.Read.File(ticket.PicturePath)!.Sha256,
                TicketPdf.PicturePixels,
                cancel
            );
        var name = $"ticket-{set.Read.Order.Number}-version-{set.Read.Version.Number}.pdf";
        return File(TicketPdf.Write(set, flat, PaperSize.Of(paper)), "application/pdf", name);
    }
}
