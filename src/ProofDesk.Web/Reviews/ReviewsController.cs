using System.Security.Cryptography;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>The client's pages. GET shows; "confirm" shows once more what is about to be said; only the decision writes.</summary>
[AllowAnonymous]
[Route("/review/{id:guid}")]
public sealed class ReviewsController(
    Invitations invitations,
    Deciding deciding,
    VersionReader versions,
    ReviewTicket ticket,
    ReviewViews views,
    Garments garments,
    MailedCodes codes,
    FormStamp stamps,
    SignsOfRobots signs,
    PiecePhotos samples
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel)
    {
        if (await PageAsync(id, new ReviewForm(), cancel) is not { } page)
            return await ClosedAsync(id, cancel);
        if (HeadRequests.IsLookedAt(HttpContext))
            await views.CountAsync(id, page.Read.Version.Id, cancel);
        return View("Look", page);
    }

    [HttpGet("approve")]
    public Task<IActionResult> NewApproval(Guid id, bool sample, CancellationToken cancel) =>
        FormAsync(id, "approve", sample, cancel);

    [HttpGet("changes")]
    public Task<IActionResult> NewChanges(Guid id, bool sample, CancellationToken cancel) =>
        FormAsync(id, "changes", sample, cancel);

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

    /// <summary>The last look. Writes nothing; the nonce made here is what makes a second press the same decision.</summary>
    [HttpPost("confirm")]
    public async Task<IActionResult> Confirm(Guid id, ReviewForm form, CancellationToken cancel)
    {
        if (await PageAsync(id, form, cancel) is not { } page)
            return await ClosedAsync(id, cancel);
        if (!page.CanAnswer)
            return Redirect(page.Here);
        if (form.Manifest != page.Manifest)
            return Stale(page);
        form.Check(ModelState);
        if (!ModelState.IsValid)
        {
            Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
            return View(form.IsApproval ? "Approve" : "Changes", page);
        }
        form.TakeConditionAsChange();
        Fill(form);
        ModelState.Clear();
        form.Nonce = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        return View("Confirm", page);
    }

    /// <summary>Mails a code if one can be had. The answer is the same in any case: it tells a stranger nothing.</summary>
    [HttpPost("code")]
    public async Task<IActionResult> MailCode(Guid id, ReviewForm form, CancellationToken cancel)
    {
        if (await PageAsync(id, form, cancel) is not { } page)
            return await ClosedAsync(id, cancel);
        if (page.AsksForCode && page.CanAnswer)
            await codes.AskAsync(id, cancel);
        ModelState.Clear();
        form.Code = null;
        Response.StatusCode = StatusCodes.Status202Accepted;
        return View("Confirm", page with { CodeWasAsked = true });
    }

    [HttpPost("decision")]
    public async Task<IActionResult> Create(Guid id, ReviewForm form, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id))
            return await ClosedAsync(id, cancel);
        var result = await deciding.DecideAsync(
            new DecisionRequest(
                id,
                form.Kind,
                form.Manifest,
                form.Nonce,
                form.Name?.Trim() ?? "",
                form.Locale ?? "en",
                form.Confirmed,
                form.Requests,
                string.IsNullOrWhiteSpace(form.Comment) ? null : form.Comment.Trim(),
                Request.Headers.UserAgent.ToString(),
                HttpContext.Connection.RemoteIpAddress,
                Code: form.Code,
                Signs: await signs.OfAsync(id, form, cancel),
                ForSample: form.Sample
            ),
            cancel
        );
        switch (result)
        {
            case DecisionResult.Recorded recorded:
                Response.StatusCode = StatusCodes.Status303SeeOther;
                Response.Headers.Location = $"/receipt/{recorded.DecisionId}";
                return new EmptyResult();
            case DecisionResult.AlreadyDecided decided:
                return this.Answer(
                    409,
                    ReviewText.DecidedTitle,
                    decided.Text,
                    ReviewText.OpenReceipt,
                    $"/receipt/{decided.DecisionId}"
                );
            case DecisionResult.Stale stale:
                return this.Answer(412, ReviewText.StaleTitle, stale.Text, ReviewText.OpenNewest, $"/review/{id}");
            case DecisionResult.LinkGone gone:
                return this.Answer(410, ReviewText.GoneTitle, gone.Revoked ? ReviewText.Revoked : ReviewText.Expired);
            case DecisionResult.Incomplete incomplete:
                return await IncompleteAsync(id, form, incomplete, cancel);
            default:
                return NotFound();
        }
    }

    private async Task<IActionResult> FormAsync(Guid id, string choice, bool sample, CancellationToken cancel)
    {
        if (await PageAsync(id, new ReviewForm { Choice = choice, Sample = sample }, cancel) is not { } page)
            return await ClosedAsync(id, cancel);
        if (!page.CanAnswer)
            return Redirect(page.Here);
        page.Form.Manifest = page.Manifest;
        page.Form.Opened = stamps.New(id);
        return View(choice == "approve" ? "Approve" : "Changes", page);
    }

    private async Task<IActionResult> IncompleteAsync(
        Guid id,
        ReviewForm form,
        DecisionResult.Incomplete incomplete,
        CancellationToken cancel
    )
    {
        if (await PageAsync(id, form, cancel) is not { } page)
            return await ClosedAsync(id, cancel);
        var onlyCode = incomplete.Refusals.All(refusal => refusal.Code.StartsWith("code-", StringComparison.Ordinal));
        foreach (var refusal in incomplete.Refusals)
            ModelState.AddModelError(onlyCode ? nameof(form.Code) : "", refusal.Text);
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        // The same form again, nonce and all: only the code is missing.
        if (onlyCode)
            return View("Confirm", page);
        return View(form.IsApproval ? "Approve" : "Changes", page);
    }

    private async Task<ReviewPage?> PageAsync(Guid id, ReviewForm form, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id) || await invitations.ReviewAsync(id, cancel) is not { } review)
            return null;
        Fill(form);
        form.Locale = review.Invitation.Locale;
        return new ReviewPage(review, await versions.ReadAsync(review.Version, cancel), form, garments);
    }

    private static void Fill(ReviewForm form)
    {
        while (form.Changes.Count < ReviewPage.ChangeRows)
            form.Changes.Add(new ChangeForm());
    }

    private ViewResult Stale(ReviewPage page) =>
        this.Answer(
            412,
            ReviewText.StaleTitle,
            $"Version {page.Number} is the newest; the page you answered showed an earlier one. Nothing was decided.",
            ReviewText.OpenNewest,
            page.Here
        );

    // Who holds the link is told that it ended and whom to ask; to everybody else there is nothing here.
    private async Task<IActionResult> ClosedAsync(Guid id, CancellationToken cancel) =>
        ticket.Holds(HttpContext, id) && await invitations.GoneAsync(id, cancel) is { } gone
            ? this.Gone(gone)
            : this.Answer(404, ReviewText.ReopenTitle, ReviewText.Reopen);
}
