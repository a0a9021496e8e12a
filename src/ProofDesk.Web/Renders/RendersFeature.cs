using ProofDesk.Adapters.Work;

namespace ProofDesk.Web.Renders;

/// <summary>Asking for proofs, making them, following them.</summary>
internal static class RendersFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<ProofRequests>();
        services.AddSingleton<ProofRendering>();
        services.AddSingleton<StoredRepeat>();
        services.AddScoped<RenderRequests>();
    }

    public static RenderHandler Handler(IServiceProvider services) =>
        services.GetRequiredService<ProofRendering>().RenderAsync;
}
