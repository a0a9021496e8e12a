using ProofDesk.Adapters.Sheets;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Web.Compare;

/// <summary>The compare sheet: one art by several methods on several garment colours, to choose by. docs/compare.md.</summary>
internal static class CompareFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<CellRendering>();
        services.AddSingleton<SheetPng>().AddSingleton<SheetPdf>();
        services.AddScoped<SheetForms>().AddScoped<SheetPages>();
    }

    public static CellHandler Handler(IServiceProvider services) =>
        services.GetRequiredService<CellRendering>().MakeAsync;
}
