using System.Buffers.Text;
using System.Text;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// The first account and the link that gives it its password. The code is Identity's reset token: setting the password
/// changes the account's stamp, so a used link is dead.
/// </summary>
public sealed class OwnerLink(UserManager<StaffUser> users, ServerSettings settings)
{
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
