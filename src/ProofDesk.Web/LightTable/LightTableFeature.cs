namespace ProofDesk.Web.LightTable;

/// <summary>The light table: films of a version on each other in print order, and what is changed on them by hand.</summary>
internal static class LightTableFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton<FilmSheets>();
    }
}
