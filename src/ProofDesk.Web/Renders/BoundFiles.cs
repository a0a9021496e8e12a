using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Web.Renders;

/// <summary>
/// The files of a version, each in a temporary file that is gone once it was stored: a large print has hundreds of
/// megabytes of pictures.
/// </summary>
internal sealed class BoundFiles
{
    private const int HeadSide = 1000;
    private readonly List<RenderedFile> all = [];

    public IReadOnlyList<RenderedFile> All => all;

    public void Add(string key, Proof proof, FilmSetName name, CancellationToken cancel)
    {
        foreach (var ground in proof.Grounds)
        {
            var paths = GroundPaths.Of(key, ground.Ground);
            Picture(paths.Print, FileRole.Picture, ground.Expected.Print);
            Picture(paths.Garment, FileRole.GarmentPicture, ground.Garment);
            foreach (var end in ground.Range)
                Picture(paths.End(end.Deposit), FileRole.Picture, end.Print);
            foreach (var head in ground.HeadByHead)
                Add(paths.Head(head.AfterScreens), FileRole.Picture, "image/png", PictureWriter.Png(head.Print, HeadSide));
            cancel.ThrowIfCancellationRequested();
        }
        for (var i = 0; i < proof.Films.Plates.Length; i++)
        {
            var at = i;
            Write(
                PlatePath(key, i, proof),
                FileRole.Plate,
                "image/tiff",
                to => PlateFiles.Write(proof.Films, at, proof.Measures[at], name, to, cancel)
            );
        }
        Write(
            $"{key}/plates.pdf",
            FileRole.PlatesPdf,
            "application/pdf",
            to => PlatesPdf.Write(to, proof.Films, Summaries.Solids(proof), $"{name.Order} {name.Print}", cancel)
        );
        Add($"{key}/ink-list.csv", FileRole.InkList, "text/csv", Encoding.UTF8.GetBytes(InkListCsv.Write([.. proof.Grounds.Select(g => g.InkList)])));
        Add($"{key}/ink-list.json", FileRole.InkList, "application/json", Encoding.UTF8.GetBytes(InkListJson.Write(proof)));
        Add($"{key}/recipe.json", FileRole.Recipe, "application/json", Encoding.UTF8.GetBytes(proof.Recipe.Json));
        Add(
            $"{key}/findings.json",
            FileRole.Findings,
            "application/json",
            Encoding.UTF8.GetBytes(FindingsJson.Write(proof.Findings))
        );
    }

    public static string PlatePath(string key, int index, Proof proof) =>
        $"{key}/plates/{PlateFiles.FileName(index, proof.Films.Plates[index].Plate.Name)}";

    public void Add(string path, FileRole role, string mediaType, byte[] bytes) =>
        Write(path, role, mediaType, to => to.Write(bytes));

    private void Picture(string path, FileRole role, RgbPicture picture) =>
        Add(path, role, "image/png", PictureWriter.Png(picture));

    private void Write(string path, FileRole role, string mediaType, Action<Stream> write)
    {
        var file = new FileStream(
            Path.Combine(Path.GetTempPath(), $"proofdesk-{Guid.NewGuid():N}"),
            FileMode.CreateNew,
            FileAccess.ReadWrite,
            FileShare.None,
            1 << 16,
            FileOptions.DeleteOnClose
        );
        write(file);
        file.Position = 0;
        all.Add(new RenderedFile(path, role, mediaType, () => file));
    }
}
