using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Adapters.Renders;

/// <summary>
/// The files of a version, each in a temporary file that is gone once it was stored: a large print has hundreds of
/// megabytes of pictures.
/// </summary>
public sealed class BoundFiles
{
    /// <summary>Longest side of the pictures that are only compared with each other, px.</summary>
    private const int SmallSide = 1200;
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
                Add(paths.End(end.Deposit), FileRole.Picture, "image/png", PictureWriter.Png(end.Print, SmallSide));
            foreach (var head in ground.HeadByHead)
                Add(
                    paths.Head(head.AfterScreens),
                    FileRole.Picture,
                    "image/png",
                    PictureWriter.Png(head.Print, SmallSide)
                );
            if (proof.Separation.Reach.FirstOrDefault(r => r.Ground == ground.Ground) is { } reach)
                Picture(paths.Reach, FileRole.Picture, ReachPicture.Draw(reach));
            if (ground.Strip is { } strip)
                Picture(paths.Run, FileRole.Picture, strip.Picture);
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
            Add(FilmViewPath(key, i, proof), FileRole.Picture, "image/png", FilmView(proof, i, cancel));
        }
        if (proof.Roster is { } roster)
            Picture(RosterPath(key), FileRole.Picture, roster.Sheet);
        var views = FilmViews.Of(proof, name, cancel);
        for (var i = 0; i < views.Films.Length; i++)
            Add(WholeFilmPath(key, i, proof), FileRole.Picture, "image/png", views.Films[i].Png);
        Add(FilmsPath(key), FileRole.Picture, "image/png", views.Together);
        Write(
            $"{key}/plates.pdf",
            FileRole.PlatesPdf,
            "application/pdf",
            to =>
                PlatesPdf.Write(
                    to,
                    proof.Films,
                    InkListMaker.Solids(proof),
                    $"{name.Order} {name.Print}",
                    cancel: cancel
                )
        );
        foreach (var (path, bytes) in ProductionWriter.Write(proof))
            Add($"{key}/{path}", FileRole.Production, MediaType(path), bytes);
        Add(
            $"{key}/ink-list.csv",
            FileRole.InkList,
            "text/csv",
            Encoding.UTF8.GetBytes(InkListCsv.Write([.. proof.Grounds.Select(g => g.InkList)]))
        );
        Add(
            $"{key}/ink-list.json",
            FileRole.InkList,
            "application/json",
            Encoding.UTF8.GetBytes(InkListJson.Write(proof))
        );
        Add(RecipePath(key), FileRole.Recipe, "application/json", Encoding.UTF8.GetBytes(proof.Recipe.Json));
        Add(
            $"{key}/findings.json",
            FileRole.Findings,
            "application/json",
            Encoding.UTF8.GetBytes(FindingsJson.Write(proof.Findings))
        );
    }

    /// <summary>
    /// What the recipe reads, so that the print can be made again from these files alone. Each is found by the digest that the
    /// recipe names; what the recipe does not say stands in <see cref="RecipeInputs"/>.
    /// </summary>
    /// <param name="openArt">The file as it was uploaded.</param>
    /// <param name="roster">Names and numbers as they were given; null for none.</param>
    public void AddInputs(
        string key,
        Proof proof,
        FilmSetName name,
        string artMediaType,
        Func<Stream> openArt,
        string? roster = null
    )
    {
        all.Add(new RenderedFile(ArtPath(key, artMediaType), FileRole.Art, artMediaType, openArt));
        foreach (var garment in proof.Grounds.Select(g => g.Ground.Garment).DistinctBy(g => g.Sha256))
            if (!garment.File.IsDefaultOrEmpty)
                Add($"{key}/inputs/garment-{garment.Id}.json", FileRole.Recipe, "application/json", [.. garment.File]);
        foreach (var (path, photograph) in Photographs(key, proof))
            Add(path, FileRole.Recipe, "image/png", [.. photograph.File]);
        Add(
            InputsPath(key),
            FileRole.Recipe,
            "application/json",
            (RecipeInputs.Of(proof, name) with { Roster = roster }).Write()
        );
    }

    /// <summary>What messages call the list of names and numbers.</summary>
    public const string RosterName = "names and numbers";

    /// <summary>All names and numbers of a print on one picture.</summary>
    public static string RosterPath(string key) => $"{key}/roster.png";

    private static IEnumerable<(string Path, GarmentPhotograph Photograph)> Photographs(string key, Proof proof) =>
        proof
            .Grounds.Select(g => g.Ground.Garment)
            .DistinctBy(g => g.Sha256)
            .SelectMany(g =>
                (g.Shape?.Views ?? [])
                    .Where(v => v.Photograph is { File.IsDefaultOrEmpty: false })
                    .Select(v =>
                        ($"{key}/inputs/garment-{g.Id}-{v.Side.ToString().ToLowerInvariant()}.png", v.Photograph!)
                    )
            );

    public static string RecipePath(string key) => $"{key}/recipe.json";

    public static string InputsPath(string key) => $"{key}/recipe-inputs.json";

    /// <summary>Names of strangers' files are never used in paths.</summary>
    private static string ArtPath(string key, string mediaType) =>
        $"{key}/art/original."
        + mediaType switch
        {
            "image/svg+xml" => "svg",
            "application/pdf" => "pdf",
            "application/zip" => "zip",
            "image/png" => "png",
            "image/jpeg" => "jpg",
            "image/tiff" => "tif",
            "image/webp" => "webp",
            _ => "bin",
        };

    private static string MediaType(string path) =>
        Path.GetExtension(path) switch
        {
            ".svg" => "image/svg+xml",
            ".csv" => "text/csv",
            ".json" => "application/json",
            ".png" => "image/png",
            _ => "text/plain",
        };

    public static string PlatePath(string key, int index, Proof proof) =>
        $"{key}/plates/{PlateFiles.FileName(index, proof.Films.Plates[index].Plate.Name)}";

    /// <summary>A small view of the film beside it: films themselves leave only after approval.</summary>
    public static string FilmViewPath(string key, int index, Proof proof) =>
        $"{key}/films/{Path.GetFileNameWithoutExtension(PlatePath(key, index, proof))}.png";

    /// <summary>The whole film, small, with its marks and label.</summary>
    public static string WholeFilmPath(string key, int index, Proof proof) =>
        $"{key}/films/{FilmViews.FileName(proof, index)}";

    /// <summary>All films of a print on one picture.</summary>
    public static string FilmsPath(string key) => $"{key}/films.png";

    private static byte[] FilmView(Proof proof, int index, CancellationToken cancel)
    {
        var inked = FilmPreview.Draw(proof.Films.Plates[index], SmallSide, cancel);
        var black = Array.ConvertAll(inked.Pixels, ink => (byte)(255 - ink));
        return PictureWriter.Png(
            new BytePlane(inked.Width, inked.Height, black),
            inked.Width / proof.Separation.WidthMm
        );
    }

    public void Add(string path, FileRole role, string mediaType, byte[] bytes) =>
        Write(path, role, mediaType, to => to.Write(bytes));

    private void Picture(string path, FileRole role, RgbPicture picture) =>
        Add(path, role, "image/png", PictureWriter.Png(picture));

    private void Write(string path, FileRole role, string mediaType, Action<Stream> write)
    {
        var file = ScratchFile.Open();
        write(file);
        file.Position = 0;
        all.Add(new RenderedFile(path, role, mediaType, () => file));
    }
}
