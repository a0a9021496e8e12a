namespace ProofDesk.Web.Rates;

/// <summary>The shop's rate card: what work and material cost it, kept in versions. docs/costs.md.</summary>
internal static class RatesFeature
{
    public static void Add(IServiceCollection services) => services.AddSingleton<ShopRates>();
}
