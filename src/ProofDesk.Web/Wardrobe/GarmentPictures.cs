using System.Collections.Concurrent;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Web.Wardrobe;

/// <summary>Bare garments as the list shows them. A garment file never changes under its digest, so a picture is drawn once.</summary>
public sealed class GarmentPictures(ShopGarments own)
{
    private const int Held = 200;
    private const double PixelsPerMm = 0.7;
    private readonly ConcurrentDictionary<string, byte[]> drawn = new();

    public async Task<byte[]> OfAsync(Ground ground, CancellationToken cancel)
    {
        var key = $"{ground.Garment.Sha256}/{ground.Colour.Id}";
        if (drawn.TryGetValue(key, out var held))
            return held;
        var garment = await own.WithPhotographsAsync(ground.Garment, cancel);
        var side = garment.Shape!.Views[0].Side;
        var picture = WornGarment.Draw(
            ground with
            {
                Garment = garment,
            },
            garment.SizeOrMiddle("L").Size,
            side,
            [],
            ViewingLight.D65,
            PixelsPerMm,
            seed: 1
        );
        if (drawn.Count > Held)
            drawn.Clear();
        return drawn[key] = PictureWriter.Png(picture, 640);
    }
}
