using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Limits;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>Signing in by passkey, without address and password.</summary>
[AllowAnonymous]
[SignsIn]
[Route("/sign-in/passkey")]
public sealed class PasskeySignInController(
    SignInManager<StaffUser> signIn,
    StaffSignIn staff,
    TryCounts tries,
    ServerSettings settings,
    TimeProvider time
) : Controller
{
    /// <summary>What the browser is asked to answer (W3C Web Authentication, PublicKeyCredentialRequestOptions).</summary>
    [HttpPost("options")]
    public async Task<IActionResult> Ask() =>
        PasskeyReach.WhyNot(settings) is null
            ? Content(await signIn.MakePasskeyRequestOptionsAsync(null), "application/json")
            : NotFound();

    [HttpPost("")]
    public async Task<IActionResult> Create(string? credential, CancellationToken cancel)
    {
        var counted = SignInLimits.Passkey(HttpContext);
        if (await tries.TakeAsync(counted, cancel) is { } opens)
            return this.TooMany("SignIn", new SignInForm(), opens - time.GetUtcNow());
        if (await staff.PasskeyAsync(HttpContext, credential) is null)
        {
            ModelState.Clear();
            ModelState.AddModelError(
                "",
                "This passkey does not open the desk: it belongs to no account here, or the answer came too late. Try once more, or use your password."
            );
            return this.Again("SignIn", new SignInForm());
        }
        await tries.GiveBackAsync(counted, cancel);
        return Redirect("/desk");
    }
}
