using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;

namespace ProofDesk.Web.Wardrobe;

/// <summary>The shop's own garments, drawn and photographed: chosen on the order form, pinned by each proof, docs/own-garment.md.</summary>
internal static class WardrobeFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddSingleton(provider => new GarmentPhotographs(provider.GetRequiredService<ArtDecoder>()));
        services.AddSingleton<ShopGarments>();
        services.AddSingleton<Photographs>();
        services.AddSingleton<GarmentPictures>();
    }
}
