using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Reviews;

/// <summary>The mailed address. It only ever leads on: nothing is written, however often a scanner comes by.</summary>
[AllowAnonymous]
public sealed class LinksController(Invitations invitations, ReviewTicket ticket, MissedLinks misses) : Controller
{
    [HttpGet("/r/{token}")]
    public async Task<IActionResult> Open(string token, CancellationToken cancel)
    {
        var address = HttpContext.Connection.RemoteIpAddress;
        if (misses.IsBlocked(address))
        {
            Response.Headers.RetryAfter = "60";
            return StatusCode(StatusCodes.Status429TooManyRequests);
        }
        switch (await invitations.OpenAsync(token, cancel))
        {
            case LinkResult.Open open:
                ticket.Add(HttpContext, open.InvitationId);
                Response.StatusCode = StatusCodes.Status303SeeOther;
                Response.Headers.Location = $"/review/{open.InvitationId}";
                return new EmptyResult();
            case LinkResult.Gone gone:
                return this.Answer(410, ReviewText.GoneTitle, gone.Revoked ? ReviewText.Revoked : ReviewText.Expired);
            case LinkResult.Incomplete:
                return this.Answer(404, ReviewText.IncompleteTitle, ReviewText.Incomplete);
            default:
                misses.Count(address);
                return NotFound();
        }
    }
}
