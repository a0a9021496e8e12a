namespace ProofDesk.Web.Devices;

/// <summary>The shop's output devices and frame templates: chosen on the order form, pinned by each proof, docs/films.md.</summary>
internal static class DevicesFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<ShopDevices>();
        services.AddSingleton<ShopFrames>();
    }
}
