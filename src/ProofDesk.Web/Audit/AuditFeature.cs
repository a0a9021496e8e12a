namespace ProofDesk.Web.Audit;

/// <summary>The log as a page and as files.</summary>
internal static class AuditFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddScoped<AuditTrail>();
    }
}
