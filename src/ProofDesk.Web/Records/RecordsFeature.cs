namespace ProofDesk.Web.Records;

/// <summary>Decisions as records: pages, receipts, packets, and the films an approval lets go.</summary>
internal static class RecordsFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<Artefacts>();
        services.AddScoped<RecordReader>();
    }
}
