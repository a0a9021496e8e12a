using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.SignIn;

public sealed class SignInForm
{
    [Required(ErrorMessage = "Type the address of your account.")]
    public string Email { get; set; } = "";

    [Required(ErrorMessage = "Type your password.")]
    public string Password { get; set; } = "";
}

[AllowAnonymous]
public sealed class SignInController(SignInManager<StaffUser> signIn) : Controller
{
    [HttpGet("/sign-in")]
    public IActionResult New() => View("SignIn", new SignInForm());

    [HttpPost("/sign-in")]
    public async Task<IActionResult> Create(SignInForm form)
    {
        if (ModelState.IsValid)
        {
            var result = await signIn.PasswordSignInAsync(
                form.Email.Trim(),
                form.Password,
                false,
                lockoutOnFailure: true
            );
            if (result.Succeeded)
                return Redirect("/desk");
            ModelState.AddModelError(
                nameof(form.Email),
                result.IsLockedOut
                    ? "Too many tries. This account opens again in 15 minutes; the owner can see it in the log."
                    : "Address and password do not belong together. Passwords here have 15 characters or more."
            );
        }
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return View("SignIn", form);
    }

    [HttpPost("/sign-out")]
    public async Task<IActionResult> Delete()
    {
        await signIn.SignOutAsync();
        return Redirect("/sign-in");
    }
}
