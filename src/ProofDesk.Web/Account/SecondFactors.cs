using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Account;

/// <summary>Changes of the second factor, each in one transaction with its event and its letter.</summary>
public sealed class SecondFactors(StaffAccounts accounts, AccountChanges changes)
{
    public const int Codes = 10;

    /// <summary>The app has shown that it holds the key: from now on it is asked for.</summary>
    /// <returns>the account and its recovery codes</returns>
    public Task<(StaffUser Person, IReadOnlyList<string> Codes)?> BeginAsync(
        string actor,
        string userId,
        string key,
        long step,
        CancellationToken cancel
    ) =>
        ChangeAsync(
            actor,
            userId,
            "your second step was switched on",
            "on",
            async (over, person) =>
            {
                await over.Rows.SetAuthenticatorKeyAsync(person, key, cancel);
                await over.Rows.ForgetStepAsync(person, cancel);
                await over.UpdateAsync(person);
                await over.Rows.UseStepAsync(person, step, cancel);
                await over.SetTwoFactorEnabledAsync(person, true);
                return [.. (await over.GenerateNewTwoFactorRecoveryCodesAsync(person, Codes))!];
            },
            cancel
        );

    public Task<(StaffUser Person, IReadOnlyList<string> Codes)?> NewCodesAsync(
        string actor,
        string userId,
        CancellationToken cancel
    ) =>
        ChangeAsync(
            actor,
            userId,
            "your recovery codes were replaced",
            "new-codes",
            async (over, person) =>
                person.TwoFactorEnabled
                    ? [.. (await over.GenerateNewTwoFactorRecoveryCodesAsync(person, Codes))!]
                    : null,
            cancel
        );

    public Task<(StaffUser Person, IReadOnlyList<string> Codes)?> EndAsync(
        string actor,
        string userId,
        CancellationToken cancel
    ) =>
        ChangeAsync(
            actor,
            userId,
            "your second step was switched off",
            "off",
            async (over, person) =>
            {
                await over.SetTwoFactorEnabledAsync(person, false);
                await over.GenerateNewTwoFactorRecoveryCodesAsync(person, 0);
                await over.Rows.SetAuthenticatorKeyAsync(person, over.GenerateNewAuthenticatorKey(), cancel);
                await over.UpdateAsync(person);
                return [];
            },
            cancel
        );

    /// <summary>Somebody signed in by a recovery code: the person should hear of it.</summary>
    public Task TellCodeUsedAsync(Guid userId, int left, CancellationToken cancel) =>
        changes.MakeAsync(
            "sign-in",
            async db =>
            {
                var person = (await accounts.Over(db).FindByIdAsync(userId.ToString()))!;
                return new AccountChange(
                    person,
                    EventKind.SecondFactorSet,
                    $"a recovery code was used to sign in ({left} left)",
                    Facts("code-used"),
                    EndsSessions: false
                );
            },
            cancel
        );

    private async Task<(StaffUser, IReadOnlyList<string>)?> ChangeAsync(
        string actor,
        string userId,
        string what,
        string fact,
        Func<StaffAccounts, StaffUser, Task<IReadOnlyList<string>?>> change,
        CancellationToken cancel
    )
    {
        IReadOnlyList<string>? codes = null;
        var made = await changes.MakeAsync(
            actor,
            async db =>
            {
                var over = accounts.Over(db);
                var person = (await over.FindByIdAsync(userId))!;
                codes = await change(over, person);
                return codes is null ? null : new AccountChange(person, EventKind.SecondFactorSet, what, Facts(fact));
            },
            cancel
        );
        return made is null ? null : (made.Person, codes!);
    }

    private static ImmutableSortedDictionary<string, string> Facts(string change) =>
        ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal).Add("change", change);
}
