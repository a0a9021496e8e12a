namespace ProofDesk.Web.Versions;

/// <summary>Two versions of an order beside each other: what differs, in words and as a picture.</summary>
internal static class VersionsFeature
{
    public static void Add(IServiceCollection services) => services.AddSingleton<DifferencePictures>();
}
