namespace ProofDesk.Web.Inks;

/// <summary>The shop's own inks: measured or typed in the desk, offered on the order form, resolved when a proof is made.</summary>
internal static class InksFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<ShopInks>();
    }
}
