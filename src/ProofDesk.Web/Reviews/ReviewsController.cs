using System.Security.Cryptography;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>The client's pages. GET shows; "confirm" shows once more what is about to be said; only the decision writes.</summary>
[AllowAnonymous]
[TypeFilter<LanguageFilter>]
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
    PictureSizes sizes,
    OfficeDb db
) : Controller
{
    /// <summary>The first screen; with "view" one picture of it, to look at closely.</summary>
    [HttpGet("")]
    public async Task<IActionResult> Show(
        Guid id,
        PictureView? view,
        string? print,
        string? ground,
        int? film,
        double? x,
        double? y,
        string? end,
        CancellationToken cancel
    )
    {
        if (await PageAsync(id, new ReviewForm(), cancel) is not { } page)
            return await ClosedAsync(id, cancel);
        if (view is { } wanted && Enum.IsDefined(wanted))
            return View("Picture", ReviewPicture.Of(page, wanted, print, ground, film, x, y, end));
        if (HeadRequests.IsLookedAt(HttpContext))
            await views.CountAsync(id, page.Read.Version.Id, cancel);
        return View("Look", page);
    }

    [HttpGet("approve")]
    public Task<IActionResult> NewApproval(Guid id, bool sample, CancellationToken cancel) =>
        FormAsync(id, "approve", sample, cancel);

    [HttpGet("changes")]
    public Task<IActionResult> NewChanges(Guid id, bool sample, string? thing, CancellationToken cancel) =>
        FormAsync(id, "changes", sample, cancel, thing);

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
        if (form.Back || form.MoreSpots is not null || form.Spots.Exists(s => s.Tap?.X is not null))
            return Again(page);
        form.Check(ModelState, page.Roster.Count);
        if (!ModelState.IsValid)
        {
            this.ToMend();
            return View(form.IsApproval ? "Approve" : "Changes", page);
        }
        form.TakeConditionAsChange();
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
        var shown = form.Locale;
        if (await PageAsync(id, form, cancel) is { } page && Unseen(page, shown) is { } unseen)
            return unseen;
        var result = await deciding.DecideAsync(
            new DecisionRequest(
                id,
                form.Kind,
                form.Manifest,
                form.Nonce,
                form.Name?.Trim() ?? "",
                shown ?? ReviewLanguage.Fallback,
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
                    ReviewText.DecidedText(decided),
                    ReviewText.OpenReceipt,
                    $"/receipt/{decided.DecisionId}"
                );
            case DecisionResult.Stale stale:
                return this.Answer(
                    412,
                    ReviewText.StaleTitle,
                    ReviewText.StaleText(stale),
                    ReviewText.OpenNewest,
                    $"/review/{id}"
                );
            case DecisionResult.LinkGone gone:
                return this.Answer(410, ReviewText.GoneTitle, gone.Revoked ? ReviewText.Revoked : ReviewText.Expired);
            case DecisionResult.Incomplete incomplete:
                return await IncompleteAsync(id, form, incomplete, cancel);
            default:
                return NotFound();
        }
    }

    /// <summary>
    /// What the last look cannot have shown: sentences in a language the version does not have, or lines of the roster that were
    /// not ticked. Nothing is bound then.
    /// </summary>
    private ViewResult? Unseen(ReviewPage page, string? shown)
    {
        if (shown is { Length: > 0 } && !page.Read.Version.StatementTexts.ContainsKey(shown))
        {
            ModelState.Clear();
            ModelState.AddModelError("", ReviewText.ProblemSentences);
            this.ToMend();
            return View("Confirm", page);
        }
        if (page.Form.IsApproval && page.Form.MissingRoster(page.Roster.Count) is { Count: > 0 } missing)
        {
            ModelState.Clear();
            ModelState.AddModelError(
                nameof(ReviewForm.Roster),
                ReviewText.ProblemRoster(missing.Count, missing[0] + 1)
            );
            this.ToMend();
            return View("Approve", page);
        }
        return null;
    }

    /// <summary>The same form with everything that was typed and ticked, and a picture's press turned into millimetres.</summary>
    private ViewResult Again(ReviewPage page)
    {
        var form = page.Form;
        ModelState.Clear();
        foreach (var spot in form.Spots)
        {
            if (
                spot.Tap is { X: { } x, Y: { } y }
                && page.Prints.FirstOrDefault(p => p.Name == spot.Print) is { } print
            )
                (spot.Right, spot.Down) = SpotPicture.Of(page, print).Millimetres(x, y);
        }
        if (form.MoreSpots is { } more && form.Spots.Count < ReviewForm.MostSpots)
            form.Spots.Add(new SpotForm { Print = more });
        return View(form.IsApproval ? "Approve" : "Changes", page);
    }

    private async Task<IActionResult> FormAsync(
        Guid id,
        string choice,
        bool sample,
        CancellationToken cancel,
        string? thing = null
    )
    {
        if (
            await PageAsync(
                id,
                new ReviewForm
                {
                    Choice = choice,
                    Sample = sample,
                    Thing = thing,
                },
                cancel
            )
            is not { } page
        )
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
            ModelState.AddModelError(onlyCode ? nameof(form.Code) : "", ReviewText.Refused(refusal));
        this.ToMend();
        // The same form again, nonce and all: only the code is missing.
        if (onlyCode)
            return View("Confirm", page);
        return View(form.IsApproval ? "Approve" : "Changes", page);
    }

    private async Task<ReviewPage?> PageAsync(Guid id, ReviewForm form, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id) || await invitations.ReviewAsync(id, cancel) is not { } review)
            return null;
        var zone = await db.Shop.AsNoTracking().Select(shop => shop.TimeZone).SingleAsync(cancel);
        var page = new ReviewPage(review, await versions.ReadAsync(review.Version, cancel), form, garments, sizes)
        {
            Zone = ReviewDates.Zone(zone),
        };
        form.Locale = page.StatementLocale;
        return page;
    }

    private ViewResult Stale(ReviewPage page) =>
        this.Answer(412, ReviewText.StaleTitle, ReviewText.StaleForm(page.Number), ReviewText.OpenNewest, page.Here);

    // Who holds the link is told that it ended and whom to ask; to everybody else there is nothing here.
    private async Task<IActionResult> ClosedAsync(Guid id, CancellationToken cancel) =>
        ticket.Holds(HttpContext, id) && await invitations.GoneAsync(id, cancel) is { } gone
            ? this.Gone(gone)
            : this.Answer(404, ReviewText.ReopenTitle, ReviewText.Reopen);
}
