namespace ProofDesk.Web.Presses;

/// <summary>The shop's own presses: fitted to what it read on its test form, chosen on the order form, pinned by each proof.</summary>
internal static class PressesFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<ShopPresses>();
        services.AddScoped<PressForms>();
    }
}
