using Microsoft.AspNetCore.Http.Features;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <summary>New orders, their art, the background question, the order's page.</summary>
internal static class OrdersFeature
{
    public static void Add(IServiceCollection services, ServerSettings settings)
    {
        services.AddSingleton<Artworks>();
        services.AddSingleton<OrderForms>();
        services.Configure<FormOptions>(o => o.MultipartBodyLengthLimit = settings.UploadMegabytes * 1_000_000L);
    }
}
