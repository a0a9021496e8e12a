using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Account;

/// <summary>One's own account: where one is signed in, and how.</summary>
/// <param name="This">the session at hand</param>
public sealed record AccountPage(
    StaffUser Person,
    IReadOnlyList<SessionCard> Sessions,
    Guid? This,
    int Passkeys,
    int RecoveryCodes
);

[Needs(Right.OwnAccount)]
[Route("/account")]
public sealed class AccountController(StaffAccounts accounts, Sessions sessions) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> Show(CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        return View(
            "Account",
            new AccountPage(
                person,
                await sessions.OfAsync(person.Id, cancel),
                SessionTickets.Of(User),
                (await accounts.GetPasskeysAsync(person)).Count,
                await accounts.CountRecoveryCodesAsync(person)
            )
        );
    }

    /// <summary>One session that is not the one at hand; that one ends by signing out.</summary>
    [HttpPost("sessions/{id:guid}/end")]
    public async Task<IActionResult> End(Guid id, CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        return await sessions.EndOneAsync(person.Id, id, cancel) ? Redirect("/account") : NotFound();
    }

    [HttpPost("sessions/end-others")]
    public async Task<IActionResult> EndOthers(CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        await sessions.EndAllAsync(person.Id, SessionTickets.Of(User), User.Identity!.Name!, cancel);
        return Redirect("/account");
    }
}
