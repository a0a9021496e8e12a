using System.Globalization;
using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Identity's store with three things changed: the key of the authenticator is sealed (Identity keeps it as plain text), recovery
/// codes are slow hashes (Identity keeps them as plain text), and a code of the authenticator counts once (RFC 6238 5.2).
/// </summary>
public sealed class AccountStore(OfficeDb db, IDataProtectionProvider protection, IdentityErrorDescriber errors)
    : UserOnlyStore<
        StaffUser,
        OfficeDb,
        Guid,
        IdentityUserClaim<Guid>,
        IdentityUserLogin<Guid>,
        IdentityUserToken<Guid>,
        IdentityUserPasskey<Guid>
    >(db, errors)
{
    private const string Ours = "[ProofDesk]";
    private const string Codes = "RecoveryCodes";
    private const string Step = "AuthenticatorStep";
    private const string PasskeyUsed = "[PasskeyUsed]";

    private readonly IDataProtector _seal = protection.CreateProtector("authenticator-key/1");

    public override Task SetAuthenticatorKeyAsync(StaffUser user, string key, CancellationToken cancellationToken) =>
        base.SetAuthenticatorKeyAsync(user, _seal.Protect(key), cancellationToken);

    /// <summary>Null also when the server's sealing keys were lost: then only recovery codes and passkeys go on working.</summary>
    public override async Task<string?> GetAuthenticatorKeyAsync(StaffUser user, CancellationToken cancellationToken)
    {
        try
        {
            return await base.GetAuthenticatorKeyAsync(user, cancellationToken) is { Length: > 0 } kept
                ? _seal.Unprotect(kept)
                : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    /// <summary>One salt for the set, so that a typed code is derived once and not ten times.</summary>
    public override Task ReplaceCodesAsync(
        StaffUser user,
        IEnumerable<string> recoveryCodes,
        CancellationToken cancellationToken
    )
    {
        var salt = SlowHash.NewSalt();
        return SetTokenAsync(
            user,
            Ours,
            Codes,
            string.Join(';', recoveryCodes.Select(code => SlowHash.Of(Plain(code), salt)).Prepend(salt)),
            cancellationToken
        );
    }

    public override async Task<int> CountCodesAsync(StaffUser user, CancellationToken cancellationToken) =>
        Math.Max(0, (await ValueAsync(user.Id, Ours, Codes, cancellationToken) ?? "").Split(';').Length - 1);

    /// <summary>Two that spend the same code at once: one of them finds the row changed.</summary>
    public override async Task<bool> RedeemCodeAsync(StaffUser user, string code, CancellationToken cancellationToken)
    {
        var kept = await ValueAsync(user.Id, Ours, Codes, cancellationToken) ?? "";
        var parts = kept.Split(';');
        if (parts.Length < 2)
        {
            return false;
        }
        var typed = SlowHash.Of(Plain(code), parts[0]);
        var left = parts
            .Skip(1)
            .Where(hash =>
                !CryptographicOperations.FixedTimeEquals(Convert.FromHexString(hash), Convert.FromHexString(typed))
            )
            .Prepend(parts[0])
            .ToList();
        return left.Count < parts.Length
            && await ExchangeAsync(user.Id, Codes, kept, string.Join(';', left), cancellationToken);
    }

    /// <summary>Whether this step of the authenticator's clock is later than the last one that counted; then it counts.</summary>
    public async Task<bool> UseStepAsync(StaffUser user, long step, CancellationToken cancel)
    {
        var kept = await ValueAsync(user.Id, Ours, Step, cancel);
        var last = kept is null ? -1 : long.Parse(kept, CultureInfo.InvariantCulture);
        if (step <= last)
        {
            return false;
        }
        var now = step.ToString(CultureInfo.InvariantCulture);
        if (kept is not null)
        {
            return await ExchangeAsync(user.Id, Step, kept, now, cancel);
        }
        await SetTokenAsync(user, Ours, Step, now, cancel);
        return true;
    }

    /// <summary>Another authenticator begins: whatever counted before says nothing about it.</summary>
    public Task ForgetStepAsync(StaffUser user, CancellationToken cancel) => RemoveTokenAsync(user, Ours, Step, cancel);

    public Task NotePasskeyUsedAsync(StaffUser user, string credential, DateTimeOffset at, CancellationToken cancel) =>
        SetTokenAsync(
            user,
            PasskeyUsed,
            credential,
            at.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture),
            cancel
        );

    public Task ForgetPasskeyAsync(StaffUser user, string credential, CancellationToken cancel) =>
        RemoveTokenAsync(user, PasskeyUsed, credential, cancel);

    /// <summary>When each passkey was last used to sign in, by its name for machines.</summary>
    public async Task<IReadOnlyDictionary<string, DateTimeOffset>> PasskeysUsedAsync(
        Guid userId,
        CancellationToken cancel
    ) =>
        (
            await Context
                .UserTokens.AsNoTracking()
                .Where(row => row.UserId == userId && row.LoginProvider == PasskeyUsed)
                .ToListAsync(cancel)
        ).ToDictionary(
            row => row.Name,
            row => DateTimeOffset.FromUnixTimeSeconds(long.Parse(row.Value!, CultureInfo.InvariantCulture)),
            StringComparer.Ordinal
        );

    private Task<string?> ValueAsync(Guid userId, string provider, string name, CancellationToken cancel) =>
        Context
            .UserTokens.AsNoTracking()
            .Where(row => row.UserId == userId && row.LoginProvider == provider && row.Name == name)
            .Select(row => row.Value)
            .SingleOrDefaultAsync(cancel);

    private async Task<bool> ExchangeAsync(
        Guid userId,
        string name,
        string old,
        string now,
        CancellationToken cancel
    ) =>
        await Context
            .UserTokens.Where(row =>
                row.UserId == userId && row.LoginProvider == Ours && row.Name == name && row.Value == old
            )
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.Value, now), cancel) == 1;

    private static string Plain(string code) => string.Concat(code.Where(char.IsAsciiLetterOrDigit)).ToUpperInvariant();
}
