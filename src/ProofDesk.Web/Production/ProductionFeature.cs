namespace ProofDesk.Web.Production;

/// <summary>What follows the client's yes: samples, press check, replacements, counts, holds, and the square code read before burning.</summary>
internal static class ProductionFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<Happenings>();
        services.AddSingleton<PiecePhotos>();
        services.AddScoped<Scans>();
        services.AddScoped<Reorders>();
    }
}
