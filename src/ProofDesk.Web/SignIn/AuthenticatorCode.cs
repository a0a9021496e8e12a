using Microsoft.AspNetCore.Identity;
using OtpNet;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// The code of an authenticator app: RFC 6238 with its usual choices (SHA-1, 30 s, six digits). One step before and one after the
/// present one are taken, and each step once (5.2). Identity's own provider takes two on each side and any number of times.
/// </summary>
public sealed class AuthenticatorCode(TimeProvider time) : IUserTwoFactorTokenProvider<StaffUser>
{
    public const string Provider = "Authenticator";
    public const int Digits = 6;

    /// <summary>The step of the clock this code belongs to, or null.</summary>
    public static long? StepOf(string base32Key, string? typed, DateTimeOffset now)
    {
        var code = Plain(typed);
        return
            code.Length == Digits
            && new Totp(Base32Encoding.ToBytes(base32Key)).VerifyTotp(
                now.UtcDateTime,
                code,
                out var step,
                new VerificationWindow(previous: 1, future: 1)
            )
            ? step
            : null;
    }

    /// <summary>Whether it has the form of a code at all; what has not is taken for a recovery code.</summary>
    public static bool LooksLikeOne(string? typed) =>
        Plain(typed) is { Length: Digits } code && code.All(char.IsAsciiDigit);

    /// <summary>What the square code says to the app.</summary>
    public static string Address(string shop, string email, string base32Key) =>
        $"otpauth://totp/{Uri.EscapeDataString(shop)}:{Uri.EscapeDataString(email)}?secret={base32Key}"
        + $"&issuer={Uri.EscapeDataString(shop)}&digits={Digits}&period=30";

    /// <summary>Whoever has switched it on is asked for it, whether or not its key can be read.</summary>
    public Task<bool> CanGenerateTwoFactorTokenAsync(UserManager<StaffUser> manager, StaffUser user) =>
        Task.FromResult(user.TwoFactorEnabled);

    /// <summary>The app makes codes, not the server.</summary>
    public Task<string> GenerateAsync(string purpose, UserManager<StaffUser> manager, StaffUser user) =>
        Task.FromResult("");

    public async Task<bool> ValidateAsync(
        string purpose,
        string token,
        UserManager<StaffUser> manager,
        StaffUser user
    ) =>
        await manager.GetAuthenticatorKeyAsync(user) is { } key
        && StepOf(key, token, time.GetUtcNow()) is { } step
        && await ((StaffAccounts)manager).Rows.UseStepAsync(user, step, CancellationToken.None);

    private static string Plain(string? typed) =>
        string.Concat((typed ?? "").Where(c => !char.IsWhiteSpace(c) && c != '-'));
}
