using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Reviews;

/// <summary>What the holder of a link does with it besides answering: passes it on, asks for a new one, stops reminders.</summary>
[AllowAnonymous]
[TypeFilter<LanguageFilter>]
[Route("/review/{id:guid}")]
public sealed class PassingOnController(
    PassingOn passing,
    Reminding reminding,
    Invitations invitations,
    ReviewTicket ticket
) : Controller
{
    [HttpPost("passing-on")]
    public async Task<IActionResult> PassOn(Guid id, string? email, string? name, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id))
            return Closed();
        var to = new LinkRecipient(email?.Trim() ?? "", name?.Trim() ?? "");
        return await passing.PassOnAsync(id, to, cancel) switch
        {
            PassResult.Passed => this.Answer(
                200,
                ReviewText.PassOnTitle,
                $"{ReviewText.PassedOn} {to.Email}.",
                ReviewText.BackToProof,
                $"/review/{id}"
            ),
            PassResult.Unusable unusable => this.Answer(
                422,
                ReviewText.PassOnTitle,
                ReviewText.NotPassed(unusable.Problem),
                ReviewText.GoBack,
                $"/review/{id}"
            ),
            PassResult.TooMany many => this.Answer(
                409,
                ReviewText.PassOnTitle,
                ReviewText.PassedTooOften(many.Most),
                ReviewText.BackToProof,
                $"/review/{id}"
            ),
            _ => await invitations.GoneAsync(id, cancel) is { } gone ? this.Gone(gone) : Closed(),
        };
    }

    /// <summary>For a link that has ended: the shop is told, nobody else.</summary>
    [HttpPost("new-link")]
    public async Task<IActionResult> AskForNew(Guid id, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id))
            return Closed();
        await passing.AskForNewAsync(id, cancel);
        return this.Answer(200, ReviewText.AskedNewLinkTitle, ReviewText.AskedNewLink);
    }

    [HttpGet("reminders")]
    public IActionResult Reminders(Guid id) => ticket.Holds(HttpContext, id) ? View("Reminders", id) : Closed();

    [HttpPost("reminders")]
    public async Task<IActionResult> StopReminders(Guid id, CancellationToken cancel)
    {
        if (!ticket.Holds(HttpContext, id))
            return Closed();
        await reminding.StopAsync(id, cancel);
        return this.Answer(
            200,
            ReviewText.RemindersTitle,
            ReviewText.StoppedReminders,
            ReviewText.BackToProof,
            $"/review/{id}"
        );
    }

    private ViewResult Closed() => this.Answer(404, ReviewText.ReopenTitle, ReviewText.Reopen);
}
