using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Web.Orders;

/// <summary>
/// What an order may choose for a print beyond art, place, method and inks. The order keeps it as JSON, a request carries it to
/// the proof; a choice that was not made is not written, so that an order without choices stays as it was.
/// </summary>
public sealed record PrintOptions
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    };

    public static PrintOptions None { get; } = new();

    /// <summary>"own-back-room", with its version in a request: "own-back-room@2"; null for the fallback.</summary>
    public string? Device { get; init; }

    /// <summary>The image several times on each screen; null for once.</summary>
    public ImagesOnScreen? Images { get; init; }

    /// <summary>The page of a PDF that is art, from 2; the first is used when nothing is said.</summary>
    public int? PdfPage { get; init; }

    /// <summary>What is changed on the films by hand, on the light table.</summary>
    public HandWork? HandWork { get; init; }

    public const string Toned = "toned";

    /// <summary><see cref="Toned"/> gives flat colours in painted art dots like the rest; null = they stay solid.</summary>
    public string? FlatAreas { get; init; }

    public const string Flatten = "flatten";

    /// <summary><see cref="Flatten"/> takes the layers of the art as one picture; null keeps them.</summary>
    public string? Layers { get; init; }

    /// <summary>Inks that are fixed, ruled out and moved.</summary>
    public InkRuleChoice? InkRules { get; init; }

    /// <summary>Names and numbers as they were given, CSV; null for none.</summary>
    public string? Roster { get; init; }

    /// <summary>As an order keeps it; empty when nothing was chosen.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Json) is var json && json == "{}" ? "" : json;

    /// <summary>The layout of each screen.</summary>
    [JsonIgnore]
    public ScreenLayout Layout =>
        Images is { } images ? new(images.Columns, images.Rows, images.GapMm) : ScreenLayout.One;

    public static PrintOptions Of(string json) =>
        json.Length == 0
            ? None
            : JsonSerializer.Deserialize<PrintOptions>(json, Json)
                ?? throw new InvalidDataException("the options of a print are empty");
}

/// <param name="GapMm">Bare film between two images.</param>
public sealed record ImagesOnScreen(int Columns, int Rows, double GapMm);
