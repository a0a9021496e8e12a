using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Limits;

namespace ProofDesk.Web.SignIn;

/// <summary>The last step of signing in, and the same person proving it once more.</summary>
public sealed class StaffSignIn(
    SignInManager<StaffUser> signIn,
    StaffAccounts accounts,
    Sessions sessions,
    KnownBrowsers browsers,
    IAuthenticationSchemeProvider schemes,
    TimeProvider time
)
{
    /// <summary>RFC 8176: how somebody proved who they are.</summary>
    private const string Amr = "amr";

    /// <summary>A passkey with user verification is both factors at once.</summary>
    public async Task<StaffUser?> PasskeyAsync(HttpContext http, string? credential)
    {
        if (await ProveByPasskeyAsync(credential) is not { } user)
            return null;
        await signIn.SignInWithClaimsAsync(user, isPersistent: false, [new Claim(Amr, "mfa"), new Claim(Amr, "swk")]);
        browsers.Remember(http, user.Email!);
        return user;
    }

    /// <summary>Whose passkey answered what was asked of this browser, or null.</summary>
    public async Task<StaffUser?> ProveByPasskeyAsync(string? credential)
    {
        if (string.IsNullOrEmpty(credential))
            return null;
        PasskeyAssertionResult<StaffUser> answer;
        try
        {
            answer = await signIn.PerformPasskeyAssertionAsync(credential);
        }
        catch (InvalidOperationException)
        {
            // Nothing was asked of this browser, or too long ago.
            return null;
        }
        if (
            !answer.Succeeded
            || !answer.Passkey.IsUserVerified
            || !await signIn.CanSignInAsync(answer.User)
            || await accounts.IsLockedOutAsync(answer.User)
        )
            return null;
        await accounts.Rows.NotePasskeyUsedAsync(
            answer.User,
            PasskeyCard.NameOf(answer.Passkey.CredentialId),
            time.GetUtcNow(),
            CancellationToken.None
        );
        return (await accounts.AddOrUpdatePasskeyAsync(answer.User, answer.Passkey)).Succeeded ? answer.User : null;
    }

    /// <summary>
    /// This browser goes on under a new key, with the account as it is now; the key before opens nothing. The end of the session stays
    /// where it was.
    /// </summary>
    public async Task AgainAsync(HttpContext http, StaffUser user)
    {
        var before = http.Features.Get<IAuthenticateResultFeature>()?.AuthenticateResult;
        var properties = before?.Properties?.Clone() ?? new AuthenticationProperties();
        SessionTickets.SetProven(properties, time.GetUtcNow());
        var person = await signIn.CreateUserPrincipalAsync(user);
        person.AddIdentity(new ClaimsIdentity(before?.Principal?.FindAll(Amr) ?? []));
        SessionCookie.Hide(http);
        var handler = ActivatorUtilities.CreateInstance<CookieAuthenticationHandler>(http.RequestServices);
        await handler.InitializeAsync((await schemes.GetSchemeAsync(IdentityConstants.ApplicationScheme))!, http);
        await handler.SignInAsync(person, properties);
        if (SessionTickets.Of(http.User) is { } old)
            await sessions.EndOneAsync(user.Id, old);
    }
}
