using System.IO.Compression;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Web.Presses;

/// <summary>The test form as it leaves the desk.</summary>
internal static class FormFilms
{
    public static TestFormSettings Settings(Mesh mesh, Ground ground, int filmDpi)
    {
        // Black and red: one that shows on white, one that needs it.
        Ink[] colours = [InkLibrary.Find("black")!, InkLibrary.Find("red")!];
        return new(mesh, InkLibrary.BaseWhite(colours[0].Kind), [.. colours], TestFormSettings.ClothOf(ground))
        {
            Device = OutputDevice.Fallback with { XDpi = filmDpi, YDpi = filmDpi },
        };
    }

    /// <param name="output">Must be able to seek.</param>
    public static void Zip(TestFormSettings settings, Ground ground, Stream output, CancellationToken cancel)
    {
        using var zip = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true);
        foreach (var file in TestFormFiles.Of(settings, ground, cancel))
        {
            using var bytes = new MemoryStream();
            file.Write(bytes);
            bytes.Position = 0;
            using var entry = zip.CreateEntry($"{settings.Mesh.Label}/{file.Name}", CompressionLevel.Fastest).Open();
            bytes.CopyTo(entry);
        }
    }
}
