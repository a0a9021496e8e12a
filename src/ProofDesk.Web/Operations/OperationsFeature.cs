using ProofDesk.Web.Start;

namespace ProofDesk.Web.Operations;

/// <summary>What a machine asks of the server: whether it lives, whether it can work, and its numbers.</summary>
internal static class OperationsFeature
{
    public static void Add(IServiceCollection services) => services.AddSingleton<MeasuredNumbers>();

    /// <summary>A second address on this machine only, for a collector that cannot sign in.</summary>
    public static void Listen(ConfigureWebHostBuilder host, ServerSettings settings)
    {
        if (settings.MetricsPort > 0)
            host.ConfigureKestrel(o => o.ListenLocalhost(settings.MetricsPort));
    }
}
