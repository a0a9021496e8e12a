using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Adapters.Renders;

/// <summary>
/// What a print's files follow from besides its recipe, art and garments: what the films are called, and the places of fractions
/// that the recipe cuts off. An order that repeats another one keeps the films, and so the names on them.
/// </summary>
public sealed record RecipeInputs(string Profile, FilmSetName Films, SortedDictionary<string, string> Digits)
{
    public const string Version = "proofdesk-recipe-inputs/1";

    /// <summary>Names and numbers as the list was given (CSV); null for a print without.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Roster { get; init; }

    private static readonly JsonSerializerOptions Strict = new(JsonSerializerDefaults.Web)
    {
        PropertyNameCaseInsensitive = false,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
        AllowDuplicateProperties = false,
    };

    public static RecipeInputs Of(Proof proof, FilmSetName films) =>
        new(Version, films, JsonSerializer.Deserialize<SortedDictionary<string, string>>(proof.Recipe.Digits, Strict)!);

    public byte[] Write() =>
        JsonSerializer.SerializeToUtf8Bytes(this with { Digits = new(Digits, StringComparer.Ordinal) }, Strict);

    /// <exception cref="RecipeProblem">It is not as <see cref="Write"/> writes it.</exception>
    public static RecipeInputs Read(ReadOnlySpan<byte> json, string path)
    {
        try
        {
            var read = JsonSerializer.Deserialize<RecipeInputs>(json, Strict);
            return read is { Profile: Version }
                ? read
                : throw new RecipeProblem($"{path} is '{read?.Profile}', this program reads '{Version}'");
        }
        catch (JsonException wrong)
        {
            throw new RecipeProblem($"{path} cannot be read: {wrong.Message}");
        }
    }
}
