using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Reviews;

/// <summary>The mailed address. It only ever leads on: nothing is written, however often a scanner comes by.</summary>
[AllowAnonymous]
[TypeFilter<LanguageFilter>]
public sealed class LinksController(Invitations invitations, ReviewTicket ticket, MissedLinks misses) : Controller
{
    [HttpGet("/r/{token}")]
    public Task<IActionResult> Open(string token, CancellationToken cancel) => OpenAsync(token, "", cancel);

    /// <summary>The second link of a reminder: leads to the page whose button stops them.</summary>
    [HttpGet("/r/{token}/reminders")]
    public Task<IActionResult> Reminders(string token, CancellationToken cancel) =>
        OpenAsync(token, "/reminders", cancel);

    private async Task<IActionResult> OpenAsync(string token, string then, CancellationToken cancel)
    {
        if (await misses.RefusesAsync(HttpContext))
            return StatusCode(StatusCodes.Status429TooManyRequests);
        switch (await invitations.OpenAsync(token, cancel))
        {
            case LinkResult.Open open:
                ticket.Add(HttpContext, open.InvitationId);
                Response.StatusCode = StatusCodes.Status303SeeOther;
                Response.Headers.Location =
                    open.Purpose == InvitationPurpose.Dispute
                        ? $"/dispute/{open.InvitationId}"
                        : $"/review/{open.InvitationId}{then}";
                return new EmptyResult();
            case LinkResult.Gone gone:
                // The browser may then ask for a new one; the ended link opens nothing.
                ticket.Add(HttpContext, gone.InvitationId);
                return this.Gone(gone);
            case LinkResult.Incomplete:
                return this.Answer(404, ReviewText.IncompleteTitle, ReviewText.Incomplete);
            default:
                await misses.CountAsync(HttpContext);
                return NotFound();
        }
    }
}
