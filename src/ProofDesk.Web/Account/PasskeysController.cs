using System.Buffers.Text;
using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Account;

/// <param name="WhyNot">why none can be added here; null when one can</param>
public sealed record PasskeysPage(IReadOnlyList<PasskeyCard> Passkeys, string? WhyNot);

public sealed class PasskeyForm
{
    [StringLength(20_000)]
    public string? Credential { get; set; }

    [StringLength(60, ErrorMessage = "Names of passkeys have at most 60 characters.")]
    public string? Name { get; set; }
}

/// <summary>One's own passkeys. A passkey opens the desk by itself: device and fingerprint or PIN are two factors.</summary>
[Recently(Back = "/account/passkeys")]
[Needs(Right.OwnAccount)]
[Route("/account/passkeys")]
public sealed class PasskeysController(
    StaffAccounts accounts,
    SignInManager<StaffUser> signIn,
    AccountChanges changes,
    StaffSignIn staff,
    ServerSettings settings
) : Controller
{
    /// <summary>More than anybody carries; keeps the list that an authenticator is sent short.</summary>
    private const int Most = 20;

    [HttpGet("")]
    public async Task<IActionResult> Index(CancellationToken cancel) => View("Passkeys", await PageAsync(cancel));

    /// <summary>What the authenticator is asked to make (W3C Web Authentication, PublicKeyCredentialCreationOptions).</summary>
    [HttpPost("options")]
    public async Task<IActionResult> Ask()
    {
        if (PasskeyReach.WhyNot(settings) is not null)
            return NotFound();
        var person = (await accounts.GetUserAsync(User))!;
        return Content(
            await signIn.MakePasskeyCreationOptionsAsync(
                new PasskeyUserEntity
                {
                    Id = person.Id.ToString(),
                    Name = person.Email!,
                    DisplayName = person.DisplayName,
                }
            ),
            "application/json"
        );
    }

    [HttpPost("")]
    public async Task<IActionResult> Create(PasskeyForm form, CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        var passkey = ModelState.IsValid ? await AttestedAsync(person, form.Credential) : null;
        if (passkey is null || (await accounts.GetPasskeysAsync(person)).Count >= Most)
        {
            if (ModelState.IsValid)
                ModelState.AddModelError(
                    "",
                    passkey is null
                        ? "The answer of the passkey does not fit this page, or came too late. Try once more."
                        : $"{Most} passkeys are the most an account has. Remove one first."
                );
            return this.Again("Passkeys", await PageAsync(cancel));
        }
        passkey.Name = string.IsNullOrWhiteSpace(form.Name) ? Agents.Say(Request.Headers.UserAgent) : form.Name.Trim();
        return await ChangeAsync(
            "a passkey was added",
            "added",
            passkey.Name,
            over => over.AddOrUpdatePasskeyAsync,
            passkey,
            cancel
        );
    }

    [HttpPost("{id}/name")]
    public async Task<IActionResult> Update(string id, PasskeyForm form)
    {
        if (await FindAsync(id) is not var (person, passkey) || !ModelState.IsValid)
            return NotFound();
        passkey.Name = string.IsNullOrWhiteSpace(form.Name) ? passkey.Name : form.Name.Trim();
        await accounts.AddOrUpdatePasskeyAsync(person, passkey);
        return Redirect("/account/passkeys");
    }

    [HttpPost("{id}/removal")]
    public async Task<IActionResult> Delete(string id, CancellationToken cancel)
    {
        if (await FindAsync(id) is not var (_, passkey))
            return NotFound();
        return await ChangeAsync(
            "a passkey was removed",
            "removed",
            passkey.Name ?? "",
            over =>
                async (person, gone) =>
                {
                    await over.Rows.ForgetPasskeyAsync(person, id, cancel);
                    return await over.RemovePasskeyAsync(person, gone.CredentialId);
                },
            passkey,
            cancel
        );
    }

    private async Task<IActionResult> ChangeAsync(
        string what,
        string change,
        string name,
        Func<StaffAccounts, Func<StaffUser, UserPasskeyInfo, Task<IdentityResult>>> act,
        UserPasskeyInfo passkey,
        CancellationToken cancel
    )
    {
        var made = await changes.MakeAsync(
            User.Identity!.Name!,
            async db =>
            {
                var over = accounts.Over(db);
                var person = (await over.FindByIdAsync(accounts.GetUserId(User)!))!;
                return (await act(over)(person, passkey)).Succeeded
                    ? new AccountChange(
                        person,
                        EventKind.PasskeySet,
                        name.Length > 0 ? $"{what} ({name})" : what,
                        ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal).Add("change", change)
                    )
                    : null;
            },
            cancel
        );
        if (made is not null)
            await staff.AgainAsync(HttpContext, made.Person);
        return Redirect("/account/passkeys");
    }

    private async Task<UserPasskeyInfo?> AttestedAsync(StaffUser person, string? credential)
    {
        if (string.IsNullOrEmpty(credential))
            return null;
        try
        {
            var answer = await signIn.PerformPasskeyAttestationAsync(credential);
            return answer.Succeeded && answer.UserEntity.Id == person.Id.ToString() && answer.Passkey.IsUserVerified
                ? answer.Passkey
                : null;
        }
        catch (InvalidOperationException)
        {
            // Nothing was asked of this browser, or too long ago.
            return null;
        }
    }

    private async Task<(StaffUser Person, UserPasskeyInfo Passkey)?> FindAsync(string id)
    {
        var person = (await accounts.GetUserAsync(User))!;
        return
            Base64Url.IsValid(id)
            && await accounts.GetPasskeyAsync(person, Base64Url.DecodeFromChars(id)) is { } passkey
            ? (person, passkey)
            : null;
    }

    private async Task<PasskeysPage> PageAsync(CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        var used = await accounts.Rows.PasskeysUsedAsync(person.Id, cancel);
        return new(
            [.. (await accounts.GetPasskeysAsync(person)).Select(p => PasskeyCard.Of(p, used)).OrderBy(p => p.Since)],
            PasskeyReach.WhyNot(settings)
        );
    }
}
