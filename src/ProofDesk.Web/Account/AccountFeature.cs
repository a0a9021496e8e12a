namespace ProofDesk.Web.Account;

/// <summary>One's own account: sessions, password, second step, passkeys.</summary>
internal static class AccountFeature
{
    public static void Add(IServiceCollection services) => services.AddScoped<SecondFactors>();
}
