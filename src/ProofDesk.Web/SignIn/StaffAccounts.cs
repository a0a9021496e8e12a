using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.SignIn;

/// <summary>Identity's manager over our store, and the same manager over the context of a running transaction.</summary>
public sealed class StaffAccounts : UserManager<StaffUser>
{
    private readonly IOptions<IdentityOptions> options;
    private readonly IServiceProvider services;

    public StaffAccounts(
        IUserStore<StaffUser> store,
        IOptions<IdentityOptions> optionsAccessor,
        IPasswordHasher<StaffUser> passwordHasher,
        IEnumerable<IUserValidator<StaffUser>> userValidators,
        IEnumerable<IPasswordValidator<StaffUser>> passwordValidators,
        ILookupNormalizer keyNormalizer,
        IdentityErrorDescriber errors,
        IServiceProvider services,
        ILogger<UserManager<StaffUser>> logger
    )
        : base(
            store,
            optionsAccessor,
            passwordHasher,
            userValidators,
            passwordValidators,
            keyNormalizer,
            errors,
            services,
            logger
        )
    {
        options = optionsAccessor;
        this.services = services;
    }

    public AccountStore Rows => (AccountStore)Store;

    /// <summary>What it changes is part of the transaction of <paramref name="db"/>.</summary>
    public StaffAccounts Over(OfficeDb db) =>
        new(
            new AccountStore(db, services.GetRequiredService<IDataProtectionProvider>(), ErrorDescriber),
            options,
            PasswordHasher,
            UserValidators,
            PasswordValidators,
            KeyNormalizer,
            ErrorDescriber,
            services,
            (ILogger<UserManager<StaffUser>>)Logger
        );

    /// <summary>What the rules say of a password for an account that is not written yet.</summary>
    public Task<IdentityResult> CheckAsync(StaffUser account, string password) =>
        ValidatePasswordAsync(account, password);

    /// <summary>As long as a comparison with a real password takes, for an account that has none or is not there.</summary>
    public void CompareWithNothing(string typed) =>
        PasswordHasher.VerifyHashedPassword(new StaffUser(), Nothing.Value, typed);

    private static readonly Lazy<string> Nothing = new(() =>
        new PasswordHasher<StaffUser>().HashPassword(new StaffUser(), Guid.NewGuid().ToString())
    );
}
