namespace ProofDesk.Web.Proofs;

/// <summary>The proof page, its pictures by digest, zoom tiles and the loupe.</summary>
internal static class ProofsFeature
{
    private const long PictureMemory = 384_000_000;

    public static void Add(IServiceCollection services)
    {
        services.AddMemoryCache(o => o.SizeLimit = PictureMemory);
        services.AddSingleton<DerivedPictures>();
        services.AddSingleton<FilmShelf>();
        services.AddSingleton<ScreensShelf>();
        services.AddSingleton<ArtPictures>();
        services.AddScoped<LoupeDesk>();
        services.AddScoped<PictureRights>();
        services.AddScoped<VersionReader>();
    }
}
