using System.Globalization;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Tests.Codecs.Layers;

/// <summary>A folder for layered files that general programs write, and their own count of the ink in them.</summary>
public abstract class LayerFixture : IDisposable
{
    protected string Folder { get; } = Directory.CreateTempSubdirectory("proofdesk-layers-").FullName;

    public void Dispose()
    {
        Directory.Delete(Folder, true);
        GC.SuppressFinalize(this);
    }

    protected string In(string name) => Path.Combine(Folder, name);

    /// <summary>Draws with ImageMagick on white, 300 x 200 px unless the options say otherwise.</summary>
    protected string Drawn(string name, params string[] options)
    {
        Programs.Run("convert", ["-size", "300x200", "xc:white", "-fill", "black", .. options, In(name)]);
        return In(name);
    }

    /// <summary>Share of black that ImageMagick counts in a picture or a page ("file.tif[1]").</summary>
    internal static double InkByConvert(string picture) =>
        1
        - double.Parse(
            Programs.Run("convert", picture, "-colorspace", "gray", "-format", "%[fx:mean]", "info:"),
            CultureInfo.InvariantCulture
        );

    internal static double Mean(ArtLayer layer) => layer.Coverage.Pixels.Average(p => (double)p) / 255;
}
