using System.ComponentModel.DataAnnotations;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.People;

public sealed class JoinForm : IValidatableObject
{
    [Required(ErrorMessage = "Type your name as your colleagues should see it.")]
    [StringLength(100, ErrorMessage = "Names here have at most 100 characters.")]
    public string DisplayName { get; set; } = "";

    [Required(ErrorMessage = "Choose a password of 15 characters or more.")]
    [StringLength(200, MinimumLength = 15, ErrorMessage = "Choose a password of 15 to 200 characters.")]
    public string Password { get; set; } = "";

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (MailAddresses.HasControls(DisplayName))
            yield return new("The name has a line break or another control character.", [nameof(DisplayName)]);
    }
}

public sealed record JoinPage(string Email, StaffRole Role, JoinForm Form);

/// <summary>
/// Takes up an invitation. Looking changes nothing; a link that was used, called back, has ended or never was gives the same page as
/// any address that does not exist.
/// </summary>
[AllowAnonymous]
[SignsIn]
[Route("/join/{token}")]
public sealed class JoiningController(
    StaffInvitations invitations,
    StaffAccounts users,
    SignInManager<StaffUser> signIn,
    MissedLinks misses
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> New(string token, CancellationToken cancel) =>
        await ReadAsync(token, cancel) is { } open
            ? View("Join", new JoinPage(open.Email, open.Role, new JoinForm { DisplayName = open.Name }))
            : StatusCode(Missed);

    [HttpPost("")]
    public async Task<IActionResult> Create(string token, JoinForm form, CancellationToken cancel)
    {
        if (await ReadAsync(token, cancel) is not { } open)
            return StatusCode(Missed);
        var account = new StaffUser
        {
            Id = Guid.CreateVersion7(),
            UserName = open.Email,
            Email = open.Email,
            DisplayName = form.DisplayName.Trim(),
            Role = open.Role,
            LockoutEnabled = true,
            SecurityStamp = Convert.ToHexString(RandomNumberGenerator.GetBytes(20)),
        };
        if (ModelState.IsValid)
            foreach (var error in (await users.CheckAsync(account, form.Password)).Errors)
                ModelState.AddModelError(nameof(JoinForm.Password), error.Description);
        if (!ModelState.IsValid)
            return this.Again("Join", new JoinPage(open.Email, open.Role, form));
        account.PasswordHash = users.PasswordHasher.HashPassword(account, form.Password);
        if (!await invitations.JoinAsync(token, account, open.Role.Word(), cancel))
            return NotFound();
        await signIn.SignInAsync(account, isPersistent: false);
        return Redirect("/desk");
    }

    private int Missed { get; set; } = StatusCodes.Status404NotFound;

    private async Task<StaffInvitation?> ReadAsync(string token, CancellationToken cancel)
    {
        if (await misses.RefusesAsync(HttpContext))
        {
            Missed = StatusCodes.Status429TooManyRequests;
            return null;
        }
        var found = await invitations.FindAsync(token, cancel);
        if (found is null)
            await misses.CountAsync(HttpContext);
        return found;
    }
}
