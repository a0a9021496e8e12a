using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.SignIn;

public sealed class WelcomeForm
{
    public string Email { get; set; } = "";

    [Required(ErrorMessage = "Type your name as your colleagues should see it.")]
    [StringLength(100, ErrorMessage = "Names here have at most 100 characters.")]
    public string DisplayName { get; set; } = "";

    [Required(ErrorMessage = "Choose a password of 15 characters or more.")]
    [StringLength(200, MinimumLength = 15, ErrorMessage = "Choose a password of 15 to 200 characters.")]
    public string Password { get; set; } = "";
}

/// <summary>The owner's first password, through the link printed at the first start.</summary>
[AllowAnonymous]
[SignsIn]
public sealed class WelcomeController(
    OwnerLink links,
    StaffAccounts accounts,
    SignInManager<StaffUser> signIn,
    MissedLinks misses
) : Controller
{
    [HttpGet("/welcome/{code}")]
    public async Task<IActionResult> New(string code) =>
        await ReadAsync(code) is { } found
            ? View("Welcome", new WelcomeForm { Email = found.User.Email! })
            : StatusCode(Missed);

    [HttpPost("/welcome/{code}")]
    public async Task<IActionResult> Create(string code, WelcomeForm form)
    {
        if (await ReadAsync(code) is not var (user, reset))
            return StatusCode(Missed);
        form.Email = user.Email!;
        if (ModelState.IsValid)
        {
            user.DisplayName = form.DisplayName.Trim();
            var done = await accounts.ResetPasswordAsync(user, reset, form.Password);
            if (done.Succeeded)
            {
                await signIn.SignInAsync(user, isPersistent: false);
                return Redirect("/desk");
            }
            foreach (var error in done.Errors)
                ModelState.AddModelError(nameof(form.Password), error.Description);
        }
        return this.Again("Welcome", form);
    }

    private int Missed { get; set; } = StatusCodes.Status404NotFound;

    private async Task<(StaffUser User, string Code)?> ReadAsync(string code)
    {
        if (await misses.RefusesAsync(HttpContext))
        {
            Missed = StatusCodes.Status429TooManyRequests;
            return null;
        }
        var found = await links.ReadAsync(code);
        if (found is null)
            await misses.CountAsync(HttpContext);
        return found;
    }
}
