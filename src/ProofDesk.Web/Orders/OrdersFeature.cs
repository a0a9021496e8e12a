using Microsoft.AspNetCore.Http.Features;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <summary>New orders, their art, the background question, the order's page.</summary>
internal static class OrdersFeature
{
    public static void Add(IServiceCollection services, ServerSettings settings)
    {
        services.AddSingleton<Artworks>();
        services.AddSingleton<KeptArt>();
        services.AddSingleton<OrderForms>();
        services.AddScoped<OrderTaking>();
        // As much as the server reads at all: a smaller limit here would call a large form a stale one.
        services.Configure<FormOptions>(o => o.MultipartBodyLengthLimit = settings.MostBodyBytes);
    }
}
