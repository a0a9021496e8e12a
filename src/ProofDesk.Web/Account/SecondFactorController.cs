using System.ComponentModel.DataAnnotations;
using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Limits;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Account;

/// <param name="Key">for who types it; null when the second step is on</param>
/// <param name="SealedKey">the same, carried in the form: nothing is written before a code has come back</param>
public sealed record SecondFactorPage(
    StaffUser Person,
    int RecoveryCodes,
    string? Key,
    string SealedKey,
    string Address
)
{
    /// <summary>The square code's dark modules as one SVG path, and how many modules wide it is.</summary>
    public (string Path, int Size) Square()
    {
        var modules = SquareCode.Of(Address);
        var size = modules.GetLength(0);
        var path = string.Concat(
            from row in Enumerable.Range(0, size)
            from column in Enumerable.Range(0, size)
            where modules[row, column]
            select $"M{column + 4} {row + 4}h1v1h-1z"
        );
        return (path, size + 8);
    }
}

public sealed class SecondFactorForm
{
    [StringLength(2000)]
    public string? SealedKey { get; set; }

    [Required(ErrorMessage = "Type the code the app shows.")]
    [StringLength(40, ErrorMessage = "Codes have at most 40 characters.")]
    public string Code { get; set; } = "";
}

public sealed class SecondFactorEndForm
{
    [Required(ErrorMessage = "Type your password.")]
    [StringLength(200, ErrorMessage = "Passwords here have at most 200 characters.")]
    public string Password { get; set; } = "";

    [Required(ErrorMessage = "Type the code the app shows, or a recovery code.")]
    [StringLength(40, ErrorMessage = "Codes have at most 40 characters.")]
    public string Code { get; set; } = "";
}

/// <summary>The authenticator app: on, other recovery codes, off.</summary>
[Recently(Back = "/account/second-factor")]
[Needs(Right.OwnAccount)]
[Route("/account/second-factor")]
public sealed class SecondFactorController(
    StaffAccounts accounts,
    SecondFactors factors,
    StaffSignIn staff,
    TryCounts tries,
    ServerSettings settings,
    IDataProtectionProvider protection,
    TimeProvider time
) : Controller
{
    private static readonly TimeSpan KeyLife = TimeSpan.FromMinutes(30);

    [HttpGet("")]
    public async Task<IActionResult> Show() =>
        View("SecondFactor", await PageAsync(accounts.GenerateNewAuthenticatorKey()));

    [HttpPost("")]
    public async Task<IActionResult> Create(SecondFactorForm form, CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        var key = Opened(form.SealedKey);
        if (person.TwoFactorEnabled || key is null)
            return Redirect("/account/second-factor");
        var step = AuthenticatorCode.StepOf(key, form.Code, time.GetUtcNow());
        if (!ModelState.IsValid || step is null)
        {
            if (ModelState.IsValid)
                ModelState.AddModelError(
                    nameof(form.Code),
                    "This is not the code of this key. Codes change every 30 seconds; if it goes on like this, the clock of your telephone or of the server is wrong."
                );
            return this.Again("SecondFactor", await PageAsync(key));
        }
        var made = await factors.BeginAsync(Actor, person.Id.ToString(), key, step.Value, cancel);
        return await ShownAsync(made!.Value);
    }

    [HttpPost("codes")]
    public async Task<IActionResult> Codes(CancellationToken cancel) =>
        await factors.NewCodesAsync(Actor, accounts.GetUserId(User)!, cancel) is { } made
            ? await ShownAsync(made)
            : Redirect("/account/second-factor");

    [HttpPost("off")]
    public async Task<IActionResult> Delete(SecondFactorEndForm form, CancellationToken cancel)
    {
        var person = (await accounts.GetUserAsync(User))!;
        if (!ModelState.IsValid)
            return this.Again("SecondFactor", await PageAsync(null));
        var counted = SignInLimits.Again(SessionTickets.Of(User)!.Value);
        if (await tries.TakeAsync([counted], cancel) is { } opens)
            return this.TooMany("SecondFactor", await PageAsync(null), opens - time.GetUtcNow());
        if (!await accounts.CheckPasswordAsync(person, form.Password) || !await FitsAsync(person, form.Code))
        {
            ModelState.AddModelError(
                "",
                "Password and code do not fit together. A code works once; wait for the next."
            );
            return this.Again("SecondFactor", await PageAsync(null));
        }
        await tries.GiveBackAsync([counted], cancel);
        var made = (await factors.EndAsync(Actor, person.Id.ToString(), cancel))!.Value;
        await staff.AgainAsync(HttpContext, made.Person);
        return Redirect("/account");
    }

    private string Actor => User.Identity!.Name!;

    private ITimeLimitedDataProtector Seal =>
        protection.CreateProtector("authenticator-offer/1", accounts.GetUserId(User)!).ToTimeLimitedDataProtector();

    private async Task<bool> FitsAsync(StaffUser person, string code) =>
        AuthenticatorCode.LooksLikeOne(code)
            ? await accounts.VerifyTwoFactorTokenAsync(person, AuthenticatorCode.Provider, code)
            : (await accounts.RedeemTwoFactorRecoveryCodeAsync(person, code)).Succeeded;

    private async Task<IActionResult> ShownAsync((StaffUser Person, IReadOnlyList<string> Codes) made)
    {
        await staff.AgainAsync(HttpContext, made.Person);
        return View("RecoveryCodes", made.Codes);
    }

    private string? Opened(string? sealedKey)
    {
        try
        {
            return sealedKey is null ? null : Seal.Unprotect(sealedKey);
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    private async Task<SecondFactorPage> PageAsync(string? key)
    {
        var person = (await accounts.GetUserAsync(User))!;
        var codes = await accounts.CountRecoveryCodesAsync(person);
        return person.TwoFactorEnabled || key is null
            ? new(person, codes, null, "", "")
            : new(
                person,
                codes,
                key,
                Seal.Protect(key, KeyLife),
                AuthenticatorCode.Address(settings.ShopName, person.Email!, key)
            );
    }
}
