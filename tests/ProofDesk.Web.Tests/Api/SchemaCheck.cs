using System.Text.Json;

namespace ProofDesk.Web.Tests.Api;

/// <summary>
/// What of JSON Schema 2020-12 the document uses: references, types, required and known members, items, words, choices. Written
/// here in small; the members of an answer that its schema does not name are faults too.
/// </summary>
internal sealed class SchemaCheck(JsonElement document)
{
    private static readonly HashSet<string> Known =
    [
        "$ref",
        "type",
        "properties",
        "required",
        "items",
        "enum",
        "oneOf",
        "anyOf",
        "additionalProperties",
        "description",
        "examples",
        "format",
        "default",
    ];

    /// <summary>Everything in which a value is not what its schema says.</summary>
    public IEnumerable<string> Faults(JsonElement value, JsonElement schema, string at = "")
    {
        foreach (var word in schema.EnumerateObject().Where(member => !Known.Contains(member.Name)))
            yield return $"{at}: the check does not know the word {word.Name}";
        if (schema.TryGetProperty("$ref", out var reference))
        {
            foreach (var fault in Faults(value, Resolve(reference.GetString()!), at))
                yield return fault;
            yield break;
        }
        foreach (var choice in new[] { "oneOf", "anyOf" })
        {
            if (
                schema.TryGetProperty(choice, out var all)
                && !all.EnumerateArray().Any(one => !Faults(value, one).Any())
            )
                yield return $"{at}: {value.GetRawText()} fits none of {choice}";
        }
        if (schema.TryGetProperty("type", out var type) && !Types(type).Any(word => Is(value, word)))
            yield return $"{at}: {value.ValueKind} is not {type}";
        if (schema.TryGetProperty("enum", out var words) && !words.EnumerateArray().Any(w => Same(w, value)))
            yield return $"{at}: {value.GetRawText()} is not one of {words}";
        foreach (
            var fault in value.ValueKind switch
            {
                JsonValueKind.Object => Members(value, schema, at),
                JsonValueKind.Array when schema.TryGetProperty("items", out var items) => value
                    .EnumerateArray()
                    .SelectMany((item, i) => Faults(item, items, $"{at}/{i}")),
                _ => [],
            }
        )
            yield return fault;
    }

    public JsonElement Resolve(string reference) =>
        reference.TrimStart('#', '/').Split('/').Aggregate(document, (at, name) => at.GetProperty(name));

    private IEnumerable<string> Members(JsonElement value, JsonElement schema, string at)
    {
        if (schema.TryGetProperty("required", out var required))
        {
            foreach (
                var name in required.EnumerateArray().Where(name => !value.TryGetProperty(name.GetString()!, out _))
            )
                yield return $"{at}: {name} is missing";
        }
        var others = schema.TryGetProperty("additionalProperties", out var rest) ? rest : default;
        foreach (var member in value.EnumerateObject())
        {
            var known =
                schema.TryGetProperty("properties", out var all) && all.TryGetProperty(member.Name, out var one);
            if (known)
            {
                foreach (var fault in Faults(member.Value, all.GetProperty(member.Name), $"{at}/{member.Name}"))
                    yield return fault;
            }
            else if (others.ValueKind == JsonValueKind.Object)
            {
                foreach (var fault in Faults(member.Value, others, $"{at}/{member.Name}"))
                    yield return fault;
            }
            else if (all.ValueKind == JsonValueKind.Object)
            {
                yield return $"{at}: {member.Name} is in no schema";
            }
        }
    }

    private static bool Same(JsonElement word, JsonElement value) =>
        word.ValueKind == value.ValueKind && word.GetRawText() == value.GetRawText();

    private static IEnumerable<string> Types(JsonElement type) =>
        type.ValueKind == JsonValueKind.Array
            ? type.EnumerateArray().Select(word => word.GetString()!)
            : [type.GetString()!];

    private static bool Is(JsonElement value, string word) =>
        word switch
        {
            "null" => value.ValueKind == JsonValueKind.Null,
            "string" => value.ValueKind == JsonValueKind.String,
            "boolean" => value.ValueKind is JsonValueKind.True or JsonValueKind.False,
            "object" => value.ValueKind == JsonValueKind.Object,
            "array" => value.ValueKind == JsonValueKind.Array,
            "integer" => value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out _),
            "number" => value.ValueKind == JsonValueKind.Number,
            _ => false,
        };
}
