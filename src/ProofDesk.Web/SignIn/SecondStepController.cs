using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Account;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Limits;

namespace ProofDesk.Web.SignIn;

public sealed class SecondStepForm
{
    [Required(ErrorMessage = "Type the code.")]
    [StringLength(40, ErrorMessage = "Codes have at most 40 characters.")]
    public string Code { get; set; } = "";
}

/// <summary>After the password: the code of the app, or one of the recovery codes.</summary>
[AllowAnonymous]
[SignsIn]
[Route("/sign-in/second-step")]
public sealed class SecondStepController(
    SignInManager<StaffUser> signIn,
    StaffAccounts accounts,
    TryCounts tries,
    SecondFactors factors,
    SignInLimits limits,
    KnownBrowsers browsers,
    TimeProvider time
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> New() =>
        await signIn.GetTwoFactorAuthenticationUserAsync() is null
            ? Redirect("/sign-in")
            : View("SecondStep", new SecondStepForm());

    [HttpPost("")]
    public async Task<IActionResult> Create(SecondStepForm form, CancellationToken cancel)
    {
        if (await signIn.GetTwoFactorAuthenticationUserAsync() is not { } user)
            return Redirect("/sign-in");
        if (!ModelState.IsValid)
            return this.Again("SecondStep", form);
        var counted = limits.SecondStep(HttpContext, user.Email!);
        if (await tries.TakeAsync(counted, cancel) is { } opens)
            return this.TooMany("SecondStep", form, opens - time.GetUtcNow(), "A passkey works meanwhile.");
        var byApp = AuthenticatorCode.LooksLikeOne(form.Code);
        var result = byApp
            ? await signIn.TwoFactorAuthenticatorSignInAsync(form.Code, false, rememberClient: false)
            : await signIn.TwoFactorRecoveryCodeSignInAsync(form.Code);
        if (result.Succeeded)
        {
            await tries.GiveBackAsync(counted, cancel);
            browsers.Remember(HttpContext, user.Email!);
            if (!byApp)
                await factors.TellCodeUsedAsync(user.Id, await accounts.CountRecoveryCodesAsync(user), cancel);
            return Redirect("/desk");
        }
        ModelState.AddModelError(
            nameof(form.Code),
            "This code does not count: it is not the one the app shows now, or it was used before. Each code works once; wait for the next."
        );
        return this.Again("SecondStep", form);
    }
}
