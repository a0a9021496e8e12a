using System.Text.Json;
using System.Text.Json.Serialization;

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

    /// <summary>As an order keeps it; empty when nothing was chosen.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Json) is var json && json == "{}" ? "" : json;

    public static PrintOptions Of(string json) =>
        json.Length == 0
            ? None
            : JsonSerializer.Deserialize<PrintOptions>(json, Json)
                ?? throw new InvalidDataException("the options of a print are empty");
}
