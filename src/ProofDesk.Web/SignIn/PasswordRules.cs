using Microsoft.AspNetCore.Identity;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// What a guesser tries first, beyond the length: the shop's and the person's own names, one piece over and over, rows of the
/// keyboard. NIST SP 800-63B-4 3.1.1.2 asks for such a list and for no rules about kinds of characters. No list of leaked passwords
/// is shipped; fifteen characters leave few of them.
/// </summary>
internal sealed class PasswordRules(ServerSettings settings) : IPasswordValidator<StaffUser>
{
    /// <summary>Shorter names stand in too many honest sentences.</summary>
    private const int LeastName = 4;

    /// <summary>What is left besides a forbidden part must still be long.</summary>
    private const int LeastRest = 10;

    private static readonly string[] Rows =
    [
        "abcdefghijklmnopqrstuvwxyz",
        "01234567890123456789",
        "qwertyuiopasdfghjklzxcvbnm",
        "1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik9ol0p",
        "azertyuiopqsdfghjklmwxcvbn",
        "qwertzuiopasdfghjklyxcvbnm",
    ];

    public Task<IdentityResult> ValidateAsync(UserManager<StaffUser> manager, StaffUser user, string? password) =>
        Task.FromResult(
            Why(password ?? "", user) is { } why
                ? IdentityResult.Failed(new IdentityError { Code = "PasswordGuessable", Description = why })
                : IdentityResult.Success
        );

    internal string? Why(string password, StaffUser user)
    {
        var plain = string.Concat(password.Where(char.IsLetterOrDigit)).ToLowerInvariant();
        if (IsRepeated(password.ToLowerInvariant()) || plain.Length == 0)
            return "This is one piece over and over. Take four plain words that have nothing to do with each other.";
        if (Rows.Any(row => IsRun(plain, row)))
            return "This is a row of the keyboard or the alphabet. Take four plain words that have nothing to do with each other.";
        foreach (var name in Names(user))
        {
            var rest = plain.Replace(name, "", StringComparison.Ordinal);
            if (rest.Length < plain.Length && rest.Length < LeastRest)
                return $"Without \"{name}\", which anybody would try, {rest.Length} letters and digits are left; at least {LeastRest} must be.";
        }
        return null;
    }

    private IEnumerable<string> Names(StaffUser user) =>
        new[] { settings.ShopName, "proofdesk", "password", (user.Email ?? "").Split('@')[0], user.DisplayName }
            .SelectMany(name =>
                name.Split([' ', '.', '-', '_', '+'], StringSplitOptions.RemoveEmptyEntries).Append(name)
            )
            .Select(name => string.Concat(name.Where(char.IsLetterOrDigit)).ToLowerInvariant())
            .Where(name => name.Length >= LeastName)
            .Distinct()
            .OrderByDescending(name => name.Length);

    private static bool IsRepeated(string text) =>
        Enumerable.Range(1, text.Length / 3).Any(n => text.Where((c, i) => c != text[i % n]).Any() is false);

    private static bool IsRun(string text, string row)
    {
        var twice = row + row;
        var back = string.Concat(twice.Reverse());
        return twice.Contains(text, StringComparison.Ordinal) || back.Contains(text, StringComparison.Ordinal);
    }
}
