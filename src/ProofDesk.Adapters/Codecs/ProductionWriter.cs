using System.Text;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Adapters.Codecs;

/// <summary>Production files as bytes: "production/NAME".</summary>
public static class ProductionWriter
{
    public static IEnumerable<(string Name, byte[] Bytes)> Write(Proof proof)
    {
        foreach (var file in proof.Request.Method.Production(proof))
            switch (file)
            {
                case ProductionText text:
                    yield return ($"production/{text.Name}", new UTF8Encoding(false).GetBytes(text.Text));
                    break;
                case ProductionPicture picture:
                    yield return (
                        $"production/{picture.Name}",
                        picture.Opacity is { } opacity
                            ? PictureWriter.Png(picture.Picture, opacity)
                            : PictureWriter.Png(picture.Picture)
                    );
                    break;
                case ProductionChannels channels:
                    foreach (var channel in channels.Channels)
                        yield return (
                            $"production/{Path.ChangeExtension(channels.Name, null)}-{channel.Name}.png",
                            PictureWriter.Png(Inverted(channel.Plane), channels.PixelsPerMm)
                        );
                    break;
                default:
                    throw new InvalidOperationException($"no writer for {file.GetType().Name}");
            }
    }

    private static BytePlane Inverted(BytePlane plane) =>
        new(plane.Width, plane.Height, Array.ConvertAll(plane.Pixels, ink => (byte)(255 - ink)));
}
