using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// "This was not me", from the link in the receipt: whoever reads the mailbox can stop production without holding the link that
/// decided. Opening it says nothing; only the button does.
/// </summary>
[AllowAnonymous]
[TypeFilter<LanguageFilter>]
[Route("/dispute/{id:guid}")]
public sealed class DisputesController(Disputes disputes, Invitations invitations, ReviewTicket ticket) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel) =>
        await FindAsync(id, cancel) is { } about ? View("Dispute", about) : await ClosedAsync(id, cancel);

    [HttpPost("")]
    public async Task<IActionResult> Create(Guid id, string? words, CancellationToken cancel)
    {
        if (await FindAsync(id, cancel) is not { } about)
            return await ClosedAsync(id, cancel);
        var said = words?.Trim() ?? "";
        if (said.Length > Disputes.MostWords)
            return this.Answer(
                422,
                ReviewText.DisputeTitle,
                ReviewText.DisputeTooLong(said.Length, Disputes.MostWords),
                ReviewText.GoBack,
                $"/dispute/{id}"
            );
        await disputes.DisputeAsync(about.Decision.Id, said, cancel);
        Response.StatusCode = StatusCodes.Status303SeeOther;
        Response.Headers.Location = $"/dispute/{id}";
        return new EmptyResult();
    }

    private async Task<DisputedDecision?> FindAsync(Guid id, CancellationToken cancel) =>
        ticket.Holds(HttpContext, id) ? await disputes.FindAsync(id, cancel) : null;

    private async Task<IActionResult> ClosedAsync(Guid id, CancellationToken cancel) =>
        ticket.Holds(HttpContext, id) && await invitations.GoneAsync(id, cancel) is { } gone
            ? this.Answer(410, ReviewText.GoneTitle, gone.Revoked ? ReviewText.Revoked : ReviewText.Expired)
            : this.Answer(404, ReviewText.ReopenTitle, ReviewText.Reopen);
}
