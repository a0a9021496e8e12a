using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Limits;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Account;

public sealed class AgainForm
{
    /// <summary>A page of this desk to go on to.</summary>
    public string? Then { get; set; }

    /// <summary>A form came too late and was not carried out.</summary>
    public bool Late { get; set; }

    [Required(ErrorMessage = "Type your password.")]
    [StringLength(200, ErrorMessage = "Passwords here have at most 200 characters.")]
    public string Password { get; set; } = "";

    public bool HasPasskeys { get; set; }
}

/// <summary>Whoever sits here proves once more that it is they, before something that a borrowed screen should not do.</summary>
[Needs(Right.OwnAccount)]
[Route("/account/again")]
public sealed class AgainController(
    StaffAccounts accounts,
    SignInManager<StaffUser> signIn,
    StaffSignIn staff,
    TryCounts tries,
    ServerSettings settings,
    TimeProvider time
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> New(string? then, bool late)
    {
        ModelState.Clear();
        return View("Again", await PageAsync(new AgainForm { Then = then, Late = late }));
    }

    [HttpPost("")]
    public async Task<IActionResult> Create(AgainForm form, CancellationToken cancel)
    {
        await PageAsync(form);
        var person = (await accounts.GetUserAsync(User))!;
        if (!ModelState.IsValid)
            return this.Again("Again", form);
        var counted = SignInLimits.Again(SessionTickets.Of(User)!.Value);
        if (await tries.TakeAsync([counted], cancel) is { } opens)
            return this.TooMany("Again", form, opens - time.GetUtcNow());
        if (!await accounts.CheckPasswordAsync(person, form.Password))
        {
            ModelState.AddModelError(nameof(form.Password), "This is not your password.");
            return this.Again("Again", form);
        }
        await tries.GiveBackAsync([counted], cancel);
        return await OnAsync(person, form.Then);
    }

    [HttpPost("passkey/options")]
    public async Task<IActionResult> Ask() =>
        PasskeyReach.WhyNot(settings) is null
            ? Content(
                await signIn.MakePasskeyRequestOptionsAsync((await accounts.GetUserAsync(User))!),
                "application/json"
            )
            : NotFound();

    [HttpPost("passkey")]
    public async Task<IActionResult> Passkey(string? credential, string? then)
    {
        if (
            await staff.ProveByPasskeyAsync(credential) is { } person
            && person.Id.ToString() == accounts.GetUserId(User)
        )
            return await OnAsync(person, then);
        ModelState.Clear();
        ModelState.AddModelError(
            "",
            "This is no passkey of your account, or the answer came too late. Try once more, or type your password."
        );
        return this.Again("Again", await PageAsync(new AgainForm { Then = then }));
    }

    private async Task<IActionResult> OnAsync(StaffUser person, string? then)
    {
        await staff.AgainAsync(HttpContext, person);
        return Redirect(Here(then));
    }

    /// <summary>A page of this desk and no other.</summary>
    private string Here(string? then) => Url.IsLocalUrl(then) ? then : "/account";

    private async Task<AgainForm> PageAsync(AgainForm form)
    {
        var person = (await accounts.GetUserAsync(User))!;
        form.Then = Here(form.Then);
        form.HasPasskeys = PasskeyReach.WhyNot(settings) is null && (await accounts.GetPasskeysAsync(person)).Count > 0;
        return form;
    }
}
