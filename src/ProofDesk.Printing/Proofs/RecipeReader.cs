using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Proofs;

/// <summary>The art as a recipe names it.</summary>
/// <param name="DrawnBy">Program that drew the page of a PDF; null for art that we draw.</param>
public sealed record RecipeArt(string Sha256, int WidthPixels, int HeightPixels)
{
    [LaterSetting]
    public string? DrawnBy { get; init; }

    [LaterSetting]
    public int? Page { get; init; }
}

/// <summary>
/// Reads a recipe back into the request it was written from. Strict: whatever this version would not write just so is a
/// <see cref="RecipeProblem"/>, for a recipe read halfway would be another print.
/// </summary>
public sealed class RecipeReader
{
    private static readonly JsonDocumentOptions Strict = new() { AllowDuplicateProperties = false };

    private readonly string json;
    private readonly JsonElement root;
    private readonly RecipeValues values;

    private RecipeReader(string json, IReadOnlyDictionary<string, string> digits)
    {
        this.json = json;
        try
        {
            using var document = JsonDocument.Parse(json, Strict);
            root = document.RootElement.Clone();
        }
        catch (JsonException broken)
        {
            throw new RecipeProblem($"the recipe is not JSON: {broken.Message}");
        }
        Engine =
            root.ValueKind == JsonValueKind.Object
            && root.TryGetProperty(nameof(Engine), out var engine)
            && engine.ValueKind == JsonValueKind.String
                ? engine.GetString()!
                : throw new RecipeProblem("the recipe names no engine version");
        values = new(digits, Engine);
        Art = values.Part<RecipeArt>(values.Member(root, nameof(Art)), nameof(Art));
        Garments = [.. values.Items(values.Member(root, "Grounds"), "Grounds").Select(g => Garment(g.Item, g.At))];
    }

    /// <param name="digits">What the ninth place cut off, by where it stands: <see cref="Recipe.Digits"/>.</param>
    /// <exception cref="RecipeProblem">It names no engine, art or ground that could be understood.</exception>
    public static RecipeReader Open(string json, IReadOnlyDictionary<string, string> digits) => new(json, digits);

    /// <summary>The version that wrote it.</summary>
    public string Engine { get; }

    public RecipeArt Art { get; }

    /// <summary>Garment of each ground, by identifier and digest of its file.</summary>
    public ImmutableArray<(string Id, string Sha256)> Garments { get; }

    /// <summary>Width of the print: decides how finely a vector is drawn.</summary>
    public double WidthMm =>
        values
            .Part<Placement>(values.Member(root, nameof(ProofRequest.Placement)), nameof(ProofRequest.Placement))
            .WidthMm;

    /// <summary>Places beyond the ninth that belong to no fraction of this recipe; nothing was made of them.</summary>
    public int DigitsLeftAside => values.DigitsLeftAside;

    /// <summary>The request whose recipe is this one to the letter.</summary>
    /// <param name="art">Decoded from the file with the digest of <see cref="Art"/>.</param>
    /// <param name="garments">Garment by the digest of its file.</param>
    /// <exception cref="RecipeProblem">Something in it is not as this version writes it.</exception>
    public ProofRequest Request(Artwork art, Func<string, Garment?> garments)
    {
        if ((art.Pixels.Width, art.Pixels.Height) != (Art.WidthPixels, Art.HeightPixels))
            throw new RecipeProblem(
                $"the art is {art.Pixels.Width} x {art.Pixels.Height} px as it is read here, {Art.WidthPixels} x {Art.HeightPixels} px in the recipe"
            );
        if (values.Member(root, nameof(ProofRequest.Under)).ValueKind != JsonValueKind.Null)
            throw new RecipeProblem(
                "the recipe names the print below by its digest only; a print on another one cannot be made again from it"
            );
        var method = values.Part<string>(values.Member(root, "Method"), "Method");
        var given = new Dictionary<string, object?>(StringComparer.Ordinal)
        {
            [nameof(ProofRequest.Art)] = art,
            [nameof(ProofRequest.Method)] =
                PrintMethods.Find(method)
                ?? throw new RecipeProblem($"Method is '{method}', which this program does not know"),
            [nameof(ProofRequest.Grounds)] = values
                .Items(values.Member(root, "Grounds"), "Grounds")
                .Select(g => Ground(g.Item, g.At, garments))
                .ToImmutableArray(),
            [nameof(ProofRequest.Under)] = null,
            // Recipes of films as they were made do not speak of hands.
            [nameof(ProofRequest.HandWork)] = root.TryGetProperty(nameof(ProofRequest.HandWork), out var work)
                ? values.Part<Separations.ByHand.HandWork>(work, nameof(ProofRequest.HandWork))
                : Separations.ByHand.HandWork.None,
            [nameof(Engine)] = null,
        };
        var request = (ProofRequest)values.Members(typeof(ProofRequest), root, "", given);
        Compare(request);
        return request;
    }

    private (string, string) Garment(JsonElement ground, string at)
    {
        values.Only(ground, at, ["Colour", "Garment", "GarmentSha256"]);
        return (
            values.Part<string>(values.Member(ground, "Garment", at), at + ".Garment"),
            values.Part<string>(values.Member(ground, "GarmentSha256", at), at + ".GarmentSha256")
        );
    }

    private Ground Ground(JsonElement ground, string at, Func<string, Garment?> garments)
    {
        var (id, sha256) = Garment(ground, at);
        var garment =
            garments(sha256)
            ?? throw new RecipeProblem(
                $"the garment '{id}' of digest {sha256[..Math.Min(8, sha256.Length)]} is not there"
            );
        if (garment.Id != id)
            throw new RecipeProblem($"{at}.Garment is '{id}', the file of that digest is of '{garment.Id}'");
        var colour = values.Part<GarmentColour>(values.Member(ground, "Colour", at), at + ".Colour");
        // The file's own instance where it says the same: the engine compares some parts by identity.
        return new(
            garment,
            garment.Colour(colour.Id) is { } own && RecipeWriter.Exactly(own) == RecipeWriter.Exactly(colour)
                ? own
                : colour
        );
    }

    private void Compare(ProofRequest request)
    {
        // Which program drew a page is the reader's machine's; the caller says so where it differs.
        var asNamed = request with
        {
            Art = request.Art with { Source = request.Art.Source with { DrawnBy = Art.DrawnBy, Page = Art.Page } },
        };
        var again = RecipeWriter.Of(asNamed, Engine).Json;
        if (again == json)
            return;
        var at = json.AsSpan().CommonPrefixLength(again);
        throw new RecipeProblem(
            $"the recipe is not as this program writes it, from character {at + 1} on: '{Excerpt(json, at)}' stands there, '{Excerpt(again, at)}' would{values.OtherEngine}"
        );
    }

    private static string Excerpt(string text, int at) => text[Math.Max(0, at - 20)..Math.Min(text.Length, at + 20)];
}
