using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Extensions.Caching.Memory;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Proofs;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// Pictures that are made for the holder of a link when they are asked for. Each is of the version that the link opens now, and
/// counts against the same limit as every request.
/// </summary>
[AllowAnonymous]
[Route("/review/{id:guid}")]
public sealed class ReviewPicturesController(
    Invitations invitations,
    VersionReader versions,
    ReviewTicket ticket,
    LoupeDesk loupes,
    Artworks artworks,
    PiecePhotos samples,
    IMemoryCache cache
) : Controller
{
    /// <summary>
    /// The dots of the print around a spot, as the press would lay them. Films are not shown this way: bits of films leave after
    /// approval only, and many squares side by side are a film.
    /// </summary>
    [HttpGet("loupe.png")]
    public async Task<IActionResult> Loupe(
        Guid id,
        string? print,
        string? ground,
        double x,
        double y,
        CancellationToken cancel
    )
    {
        if (await FindAsync(id, cancel) is not { } read || print is null || ground is null)
            return NotFound();
        if (await loupes.LookAsync(read, new(print, ground, x, y), cancel) is not { } png)
            return NotFound();
        Response.Headers.CacheControl = "private, max-age=3600";
        return File(png, "image/png");
    }

    /// <summary>The art lying on the cloth's colour, nothing simulated: drawn by us, never the bytes that were sent.</summary>
    [HttpGet("art.png")]
    public async Task<IActionResult> Art(Guid id, string? print, string? ground, CancellationToken cancel)
    {
        if (
            await FindAsync(id, cancel) is not { } read
            || read.Order.Prints.FirstOrDefault(p => p.Key == print) is not { } of
            || await ArtAsync(read, of, ground ?? "", cancel) is not { } png
        )
            return NotFound();
        Response.Headers.CacheControl = "private, max-age=3600";
        return File(png, "image/png");
    }

    /// <summary>The photograph of the printed sample.</summary>
    [HttpGet("sample.jpg")]
    public async Task<IActionResult> SamplePhoto(Guid id, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id) || await invitations.ReviewAsync(id, cancel) is not { } review)
            return NotFound();
        if (await samples.OfAsync(review.Version.Id, cancel) is not { } jpeg)
            return NotFound();
        Response.Headers.CacheControl = "private, max-age=600";
        return File(jpeg, "image/jpeg");
    }

    private async Task<byte[]?> ArtAsync(
        ReadVersion read,
        Renders.ProofOrderPrint print,
        string groundId,
        CancellationToken cancel
    )
    {
        var cloth = HttpContext.RequestServices.GetRequiredService<Start.Garments>().Find(groundId)?.Colour;
        if (cloth is null)
            return null;
        var key = $"art {read.Version.Id} {print.Key} {groundId}";
        if (cache.TryGetValue<byte[]>(key, out var kept))
            return kept;
        try
        {
            var art = await artworks.ReadAsync(print.ArtSha256, print.WidthMm, print.Options?.PdfPage, cancel);
            var choice = print.Background switch
            {
                "drop" => Printing.Artworks.BackgroundChoice.Drop,
                "print" => Printing.Artworks.BackgroundChoice.Print,
                _ => Printing.Artworks.BackgroundChoice.AsGiven,
            };
            var png = Artworks.OnCloth(art, print.WidthMm, choice, cloth);
            return cache.Set(
                key,
                png,
                new MemoryCacheEntryOptions { Size = png.Length, SlidingExpiration = TimeSpan.FromMinutes(10) }
            );
        }
        catch (UnreadableArt)
        {
            return null;
        }
    }

    private async Task<ReadVersion?> FindAsync(Guid id, CancellationToken cancel) =>
        ticket.Holds(HttpContext, id) && await invitations.ReviewAsync(id, cancel) is { } review
            ? await versions.ReadAsync(review.Version, cancel)
            : null;
}
