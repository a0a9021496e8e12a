using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Limits;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Account;

public sealed class PasswordForm
{
    [Required(ErrorMessage = "Type the password you have now.")]
    [StringLength(200, ErrorMessage = "Passwords here have at most 200 characters.")]
    public string Password { get; set; } = "";

    [Required(ErrorMessage = "Choose a password of 15 characters or more.")]
    [StringLength(200, MinimumLength = 15, ErrorMessage = "Choose a password of 15 to 200 characters.")]
    public string NewPassword { get; set; } = "";
}

/// <summary>Another password. All other sessions end, the account's address is told, the log says so.</summary>
[Needs(Right.OwnAccount)]
[Route("/account/password")]
public sealed class PasswordController(
    StaffAccounts accounts,
    AccountChanges changes,
    StaffSignIn staff,
    TryCounts tries,
    TimeProvider time
) : Controller
{
    [HttpGet("")]
    public IActionResult Edit() => View("Password", new PasswordForm());

    [HttpPost("")]
    public async Task<IActionResult> Update(PasswordForm form, CancellationToken cancel)
    {
        if (!ModelState.IsValid)
            return this.Again("Password", form);
        var counted = SignInLimits.Again(SessionTickets.Of(User)!.Value);
        if (await tries.TakeAsync([counted], cancel) is { } opens)
            return this.TooMany("Password", form, opens - time.GetUtcNow());
        IEnumerable<IdentityError> errors = [];
        var made = await changes.MakeAsync(
            User.Identity!.Name!,
            async db =>
            {
                var over = accounts.Over(db);
                var person = (await over.FindByIdAsync(accounts.GetUserId(User)!))!;
                var done = await over.ChangePasswordAsync(person, form.Password, form.NewPassword);
                errors = done.Errors;
                return done.Succeeded
                    ? new AccountChange(
                        person,
                        EventKind.PasswordSet,
                        "your password was changed",
                        ImmutableSortedDictionary<string, string>.Empty
                    )
                    : null;
            },
            cancel
        );
        var isWrong = errors.Any(e => e.Code == nameof(IdentityErrorDescriber.PasswordMismatch));
        if (!isWrong)
            await tries.GiveBackAsync([counted], cancel);
        if (made is not null)
        {
            await staff.AgainAsync(HttpContext, made.Person);
            return Redirect("/account");
        }
        foreach (var error in errors)
            ModelState.AddModelError(
                isWrong ? nameof(form.Password) : nameof(form.NewPassword),
                isWrong ? "This is not the password you have now." : error.Description
            );
        return this.Again("Password", form);
    }
}
