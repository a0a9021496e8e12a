using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Limits;

namespace ProofDesk.Web.SignIn;

public sealed class SignInForm
{
    [Required(ErrorMessage = "Type the address of your account.")]
    [StringLength(320, ErrorMessage = "Addresses have at most 320 characters.")]
    public string Email { get; set; } = "";

    [Required(ErrorMessage = "Type your password.")]
    [StringLength(200, ErrorMessage = "Passwords here have at most 200 characters.")]
    public string Password { get; set; } = "";
}

/// <summary>Password first. The answer and its time are the same for an account that is not there.</summary>
[AllowAnonymous]
[SignsIn]
public sealed class SignInController(
    SignInManager<StaffUser> signIn,
    StaffAccounts accounts,
    TryCounts tries,
    SignInLimits limits,
    KnownBrowsers browsers,
    TimeProvider time
) : Controller
{
    [HttpGet("/sign-in")]
    public IActionResult New() => View("SignIn", new SignInForm());

    [HttpPost("/sign-in")]
    public async Task<IActionResult> Create(SignInForm form, CancellationToken cancel)
    {
        if (!ModelState.IsValid)
            return this.Again("SignIn", form);
        var counted = limits.Password(HttpContext, form.Email);
        if (await tries.TakeAsync(counted, cancel) is { } opens)
            return this.TooMany("SignIn", form, opens - time.GetUtcNow(), "A passkey works meanwhile.");
        var user = await accounts.FindByEmailAsync(form.Email.Trim());
        var result = Microsoft.AspNetCore.Identity.SignInResult.Failed;
        if (user is null || !await accounts.HasPasswordAsync(user) || await accounts.IsLockedOutAsync(user))
            accounts.CompareWithNothing(form.Password);
        else
            result = await signIn.PasswordSignInAsync(user, form.Password, false, lockoutOnFailure: false);
        if (result.Succeeded || result.RequiresTwoFactor)
            await tries.GiveBackAsync(counted, cancel);
        if (result.RequiresTwoFactor)
            return Redirect("/sign-in/second-step");
        if (result.Succeeded)
        {
            browsers.Remember(HttpContext, user!.Email!);
            return Redirect("/desk");
        }
        ModelState.AddModelError(
            nameof(form.Email),
            "Address and password do not belong together. Passwords here have 15 characters or more."
        );
        return this.Again("SignIn", form);
    }
}

/// <summary>The row of the session ends, and the cookie with it.</summary>
[AllowAnonymous]
public sealed class SignOutController(SignInManager<StaffUser> signIn) : Controller
{
    [HttpPost("/sign-out")]
    public async Task<IActionResult> Create()
    {
        await signIn.SignOutAsync();
        return Redirect("/sign-in");
    }
}
