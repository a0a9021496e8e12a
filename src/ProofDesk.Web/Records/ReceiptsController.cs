using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Reviews;

namespace ProofDesk.Web.Records;

/// <summary>The client's copy of the record, for the holder of a link to the same order.</summary>
[AllowAnonymous]
[TypeFilter<LanguageFilter>]
public sealed class ReceiptsController(
    RecordReader records,
    Adapters.Database.Records store,
    Invitations invitations,
    ReviewTicket ticket,
    Deciding deciding,
    Disputes disputes,
    TimeProvider time
) : Controller
{
    [HttpGet("/receipt/{id:guid}")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel) =>
        await FindAsync(id, cancel) is { Page: var page } ? View("Receipt", page) : NotFound();

    [HttpGet("/receipt/{id:guid}/packet.zip")]
    public async Task<IActionResult> Packet(Guid id, CancellationToken cancel) =>
        await FindAsync(id, cancel) is { Page: { HasPacket: true } page } ? new PacketResult(page, store) : NotFound();

    /// <summary>Takes an approval back while the hold lasts. A leaf of its own in the log; nothing is removed.</summary>
    [HttpPost("/receipt/{id:guid}/withdrawal")]
    public async Task<IActionResult> Withdraw(Guid id, string? name, string? nonce, CancellationToken cancel)
    {
        if (await FindAsync(id, cancel) is not { Page: var page, Invitation: var invitation })
            return NotFound();
        var result = await deciding.DecideAsync(
            new DecisionRequest(
                invitation,
                DecisionKind.Withdraw,
                page.Decision.ManifestSha256,
                nonce ?? "",
                name?.Trim() ?? "",
                page.Statement.Locale,
                Confirmations.None,
                [],
                null,
                Request.Headers.UserAgent.ToString(),
                HttpContext.Connection.RemoteIpAddress,
                id
            ),
            cancel
        );
        switch (result)
        {
            case DecisionResult.Recorded recorded:
                Response.StatusCode = StatusCodes.Status303SeeOther;
                Response.Headers.Location = $"/receipt/{recorded.DecisionId}";
                return new EmptyResult();
            case DecisionResult.Incomplete incomplete:
                foreach (var refusal in incomplete.Refusals)
                    ModelState.AddModelError(
                        refusal.Code.StartsWith("name", StringComparison.Ordinal) ? "name" : "",
                        ReviewText.Refused(refusal)
                    );
                return this.Again("Receipt", page with { Now = time.GetUtcNow() });
            case DecisionResult.Stale stale:
                return this.Answer(
                    412,
                    ReviewText.StaleTitle,
                    ReviewText.StaleText(stale),
                    ReviewText.OpenNewest,
                    $"/review/{invitation}"
                );
            case DecisionResult.LinkGone gone:
                return this.Answer(410, ReviewText.GoneTitle, gone.Revoked ? ReviewText.Revoked : ReviewText.Expired);
            default:
                return NotFound();
        }
    }

    /// <summary>The same as the receipt's own link does, for whoever holds a link to the order.</summary>
    [HttpPost("/receipt/{id:guid}/dispute")]
    public async Task<IActionResult> Dispute(Guid id, CancellationToken cancel)
    {
        if (await FindAsync(id, cancel) is null)
            return NotFound();
        await disputes.DisputeAsync(id, "", cancel);
        Response.StatusCode = StatusCodes.Status303SeeOther;
        Response.Headers.Location = $"/receipt/{id}";
        return new EmptyResult();
    }

    private async Task<(RecordPage Page, Guid Invitation)?> FindAsync(Guid decisionId, CancellationToken cancel)
    {
        if (await records.FindAsync(decisionId, cancel) is not { } page)
            return null;
        foreach (var id in ticket.Read(HttpContext))
        {
            if (await invitations.ReviewAsync(id, cancel) is { } review && review.Order.Id == page.Decision.OrderId)
                return (page with { Now = time.GetUtcNow() }, id);
        }
        return null;
    }
}
