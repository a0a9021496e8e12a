using System.Buffers.Text;
using System.Collections.Immutable;
using System.Text;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// The first account and the link that gives it its password. The code is Identity's reset token: setting the password
/// changes the account's stamp, so a used link is dead.
/// </summary>
public sealed class OwnerLink(StaffAccounts users, AccountChanges changes, ServerSettings settings)
{
    /// <summary>
    /// For an owner who has lost password, telephone and recovery codes: whoever starts the server takes all of it away, and the start
    /// prints a link for a new password.
    /// </summary>
    public async Task ResetAsync()
    {
        // Not tracked: what is read next must see what is written here.
        var email = users.NormalizeEmail(settings.OwnerEmail);
        var owner =
            await users.Users.AsNoTracking().FirstOrDefaultAsync(user => user.NormalizedEmail == email)
            ?? throw new InvalidOperationException(
                $"Server:ResetOwner is set, and there is no account {settings.OwnerEmail}; set Server:OwnerEmail to the one that is locked out"
            );
        await changes.MakeAsync(
            "whoever started the server",
            async db =>
            {
                var over = users.Over(db);
                var person = (await over.FindByIdAsync(owner.Id.ToString()))!;
                foreach (var passkey in await over.GetPasskeysAsync(person))
                    await over.RemovePasskeyAsync(person, passkey.CredentialId);
                await over.SetTwoFactorEnabledAsync(person, false);
                await over.GenerateNewTwoFactorRecoveryCodesAsync(person, 0);
                await over.RemovePasswordAsync(person);
                return new AccountChange(
                    person,
                    EventKind.PasswordSet,
                    "your password, second step and passkeys were taken away at the server, for a new start",
                    ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal).Add("change", "reset")
                );
            }
        );
    }

    /// <summary>The link while the owner has no password yet, else null.</summary>
    public async Task<string?> CurrentAsync()
    {
        var owner = await users.FindByEmailAsync(settings.OwnerEmail);
        if (owner is null)
        {
            if (await users.Users.AnyAsync())
                return null;
            owner = new StaffUser
            {
                Id = Guid.CreateVersion7(),
                UserName = settings.OwnerEmail,
                Email = settings.OwnerEmail,
                EmailConfirmed = true,
                DisplayName = "Owner",
            };
            var made = await users.CreateAsync(owner);
            if (!made.Succeeded)
                throw new InvalidOperationException(
                    "cannot make the owner's account: " + string.Join("; ", made.Errors.Select(e => e.Description))
                );
        }
        if (await users.HasPasswordAsync(owner))
            return null;
        var code = await users.GeneratePasswordResetTokenAsync(owner);
        return settings.Link("/welcome/" + Base64Url.EncodeToString(Encoding.UTF8.GetBytes(owner.Id + " " + code)));
    }

    /// <summary>The account and reset code inside a link, or null when it was cut or made up.</summary>
    public async Task<(StaffUser User, string Code)?> ReadAsync(string link)
    {
        if (!Base64Url.IsValid(link))
            return null;
        var parts = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(link)).Split(' ', 2);
        if (parts.Length != 2 || await users.FindByIdAsync(parts[0]) is not { } user)
            return null;
        var fits =
            !await users.HasPasswordAsync(user)
            && await users.VerifyUserTokenAsync(
                user,
                users.Options.Tokens.PasswordResetTokenProvider,
                UserManager<StaffUser>.ResetPasswordTokenPurpose,
                parts[1]
            );
        return fits ? (user, parts[1]) : null;
    }
}
