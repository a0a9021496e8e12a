using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Garments;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Rosters;

namespace ProofDesk.Adapters.Renders;

/// <summary>
/// Makes every print of a version again from what the version binds (recipe, art, garments) and compares file by file. Nothing
/// is taken from elsewhere but the program itself and, for versions that bind no garments, the garments it ships with.
/// </summary>
/// <param name="shipped">Garment by the digest of its file, or null.</param>
public sealed class Rerender(ArtDecoder decoder, Func<string, Garment?> shipped)
{
    /// <param name="open">Opens a bound file.</param>
    /// <param name="compared">Told of each file as it is compared.</param>
    /// <exception cref="RecipeProblem">It cannot be made again; the message says what is missing or not understood.</exception>
    public async Task<RerenderReport> OfAsync(
        Manifest manifest,
        Func<ManifestFile, Stream> open,
        IProgress<FileComparison> compared,
        CancellationToken cancel
    )
    {
        var files = ImmutableArray.CreateBuilder<FileComparison>();
        var notes = ImmutableArray.CreateBuilder<string>();
        foreach (var print in manifest.Prints)
        {
            var (proof, films, said) = await MadeAsync(manifest, print.Id, open, cancel);
            notes.AddRange(said);
            await foreach (var file in ComparedAsync(manifest, print.Id, proof, films, open, cancel))
            {
                files.Add(file);
                compared.Report(file);
            }
        }
        return new(files.ToImmutable(), notes.ToImmutable());
    }

    private async Task<(Proof Proof, FilmSetName Films, ImmutableArray<string> Notes)> MadeAsync(
        Manifest manifest,
        string key,
        Func<ManifestFile, Stream> open,
        CancellationToken cancel
    )
    {
        var recipe = Bound(manifest, BoundFiles.RecipePath(key));
        var inputs = manifest.Files.FirstOrDefault(f => f.Path == BoundFiles.InputsPath(key));
        var read = inputs is null
            ? null
            : RecipeInputs.Read(await BytesAsync(inputs, open, cancel), BoundFiles.InputsPath(key));
        var reader = RecipeReader.Open(
            Encoding.UTF8.GetString(await BytesAsync(recipe, open, cancel)),
            read?.Digits ?? new SortedDictionary<string, string>()
        );
        var file =
            manifest.Files.FirstOrDefault(f => f.Role == FileRole.Art && f.Sha256.Hex == reader.Art.Sha256)
            ?? throw new RecipeProblem(
                $"the art of {key} is missing: its recipe names a file with SHA-256 {reader.Art.Sha256}, and no bound file has it (versions frozen before art was bound hold none)"
            );
        if (read is null)
            throw new RecipeProblem($"{BoundFiles.InputsPath(key)} is missing: it says what the films are called");
        var art = await ArtAsync(file, reader, open, cancel);
        var garments = await GarmentsAsync(manifest, reader, open, cancel);
        var request = reader.Request(art, sha256 => garments.GetValueOrDefault(sha256) ?? shipped(sha256));
        try
        {
            if (read.Roster is { } list)
                request = request with { Roster = RosterOf(list, key) };
            var proof = await Task.Run(() => ProofMaker.Make(request, null, cancel), cancel);
            return (proof, read.Films, [.. Notes(key, reader, art)]);
        }
        catch (ProofRefused refused)
        {
            throw new RecipeProblem($"{key} is refused when made again: {refused.Message}");
        }
    }

    private static Roster RosterOf(string list, string key) =>
        RosterFile.Read(Encoding.UTF8.GetBytes(list), BoundFiles.RosterName).Roster
        ?? throw new RecipeProblem($"the names and numbers in {BoundFiles.InputsPath(key)} cannot be read");

    private async Task<Artwork> ArtAsync(
        ManifestFile file,
        RecipeReader reader,
        Func<ManifestFile, Stream> open,
        CancellationToken cancel
    )
    {
        await using var stream = open(file);
        try
        {
            var wish = new ArtWish(reader.WidthMm) { Page = reader.Art.Page ?? 1 };
            return await decoder.DecodeAsync(stream, wish, cancel);
        }
        catch (UnreadableArt unreadable)
        {
            throw new RecipeProblem($"{file.Path} cannot be read: {unreadable.What}; {unreadable.NextStep}");
        }
    }

    private static async Task<byte[]?> PhotographAsync(
        Manifest manifest,
        GarmentPhotograph photograph,
        Func<ManifestFile, Stream> open,
        CancellationToken cancel
    ) =>
        manifest.Files.FirstOrDefault(f => f.Sha256.Hex == photograph.Sha256) is { } bound
            ? await BytesAsync(bound, open, cancel)
            : null;

    private async Task<Dictionary<string, Garment>> GarmentsAsync(
        Manifest manifest,
        RecipeReader reader,
        Func<ManifestFile, Stream> open,
        CancellationToken cancel
    )
    {
        var garments = new Dictionary<string, Garment>(StringComparer.Ordinal);
        foreach (var sha256 in reader.Garments.Select(g => g.Sha256).Distinct())
        {
            if (manifest.Files.FirstOrDefault(f => f.Sha256.Hex == sha256) is not { } file)
                continue;
            try
            {
                garments[sha256] = await new GarmentPhotographs(decoder).WithPhotographsAsync(
                    GarmentCatalogue.Read(await BytesAsync(file, open, cancel)),
                    photograph => PhotographAsync(manifest, photograph, open, cancel),
                    cancel
                );
            }
            catch (GarmentFormatException wrong)
            {
                throw new RecipeProblem($"{file.Path} cannot be read: {wrong.Message}");
            }
        }
        return garments;
    }

    private static IEnumerable<string> Notes(string key, RecipeReader reader, Artwork art)
    {
        if (reader.Engine != ProofMaker.EngineVersion)
            yield return $"{key} was made by engine {reader.Engine}, this is engine {ProofMaker.EngineVersion}: differences may be the engine's";
        if (art.Source.DrawnBy != reader.Art.DrawnBy)
            yield return $"the art of {key} was drawn by {reader.Art.DrawnBy ?? "us"}, here by {art.Source.DrawnBy ?? "us"}: differences may be that program's";
        if (reader.DigitsLeftAside > 0)
            yield return $"{reader.DigitsLeftAside} fractions of {BoundFiles.InputsPath(key)} do not fit the recipe and were left aside";
    }

    private async IAsyncEnumerable<FileComparison> ComparedAsync(
        Manifest manifest,
        string key,
        Proof proof,
        FilmSetName films,
        Func<ManifestFile, Stream> open,
        [EnumeratorCancellation] CancellationToken cancel
    )
    {
        var made = new BoundFiles();
        try
        {
            made.Add(key, proof, films, cancel);
            var names = Enumerable
                .Range(0, proof.Films.Plates.Length)
                .ToDictionary(
                    i => BoundFiles.PlatePath(key, i, proof),
                    i => $"{key}: plate {i + 1} of {proof.Films.Plates.Length} ({proof.Films.Plates[i].Plate.Name})",
                    StringComparer.Ordinal
                );
            foreach (var file in made.All.Where(f => f.Role != FileRole.Recipe).OrderBy(f => f.Role != FileRole.Plate))
            {
                var bound = manifest.Files.FirstOrDefault(f => f.Path == file.Path);
                var difference = bound is null
                    ? "is made again, but the version has no such file"
                    : await FileDifference.OfAsync(
                        await BytesAsync(bound, open, cancel),
                        await BytesAsync(file.Open(), cancel),
                        file.MediaType,
                        decoder,
                        cancel
                    );
                yield return new(
                    file.Path,
                    file.Role,
                    names.GetValueOrDefault(file.Path) ?? What(key, file.Path),
                    difference
                );
            }
            foreach (
                var file in manifest
                    .Files.Where(f => IsMade(key, f))
                    .ExceptBy(made.All.Select(f => f.Path), f => f.Path)
            )
                yield return new(
                    file.Path,
                    file.Role,
                    What(key, file.Path),
                    "the version has it, but it is not made again"
                );
        }
        finally
        {
            foreach (var file in made.All)
                await file.Open().DisposeAsync();
        }
    }

    private static bool IsMade(string key, ManifestFile file) =>
        file.Path.StartsWith(key + "/", StringComparison.Ordinal) && file.Role is not (FileRole.Art or FileRole.Recipe);

    private static string What(string key, string path) => $"{key}: {path[(key.Length + 1)..]}";

    private static ManifestFile Bound(Manifest manifest, string path) =>
        manifest.Files.FirstOrDefault(f => f.Path == path) ?? throw new RecipeProblem($"{path} is missing");

    private static Task<byte[]> BytesAsync(
        ManifestFile file,
        Func<ManifestFile, Stream> open,
        CancellationToken cancel
    ) => BytesAsync(open(file), cancel);

    private static async Task<byte[]> BytesAsync(Stream from, CancellationToken cancel)
    {
        await using var source = from;
        using var all = new MemoryStream();
        await source.CopyToAsync(all, cancel);
        return all.ToArray();
    }
}
