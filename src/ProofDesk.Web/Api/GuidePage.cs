using System.Text.Json;

namespace ProofDesk.Web.Api;

/// <summary>The document as people read it. It is read from the JSON that programs get, so both say the same.</summary>
public sealed record GuidePage(string Says, IReadOnlyList<GuideGroup> Groups, IReadOnlyList<GuideShape> Shapes)
{
    public const string Address = "/keys/api";

    public static GuidePage Of(JsonElement document)
    {
        var acts = document
            .GetProperty("paths")
            .EnumerateObject()
            .SelectMany(path => path.Value.EnumerateObject().Select(act => GuideAct.Of(path.Name, act)))
            .ToList();
        return new(
            Text(document.GetProperty("info"), "description"),
            [
                .. document
                    .GetProperty("tags")
                    .EnumerateArray()
                    .Select(tag => new GuideGroup(
                        Text(tag, "name"),
                        Text(tag, "description"),
                        acts.FindAll(act => act.Tag == Text(tag, "name"))
                    )),
            ],
            [
                .. document
                    .GetProperty("components")
                    .GetProperty("schemas")
                    .EnumerateObject()
                    .OrderBy(schema => schema.Name, StringComparer.Ordinal)
                    .Select(GuideShape.Of),
            ]
        );
    }

    internal static string Text(JsonElement element, string name) =>
        element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String
            ? value.GetString()!
            : "";
}

public sealed record GuideGroup(string Name, string Says, IReadOnlyList<GuideAct> Acts)
{
    public string Id => Name.ToLowerInvariant();
}

/// <summary>One method at one address.</summary>
/// <param name="Takes">What its body is; empty for none.</param>
public sealed record GuideAct(
    string Id,
    string Method,
    string Path,
    string Tag,
    string Summary,
    string Says,
    IReadOnlyList<GuideField> Parameters,
    IReadOnlyList<GuideType> Takes,
    IReadOnlyList<GuideAnswer> Answers
)
{
    internal static GuideAct Of(string path, JsonProperty act)
    {
        var (value, text) = (act.Value, (Func<JsonElement, string, string>)GuidePage.Text);
        return new(
            text(value, "operationId"),
            act.Name.ToUpperInvariant(),
            path,
            value.GetProperty("tags")[0].GetString()!,
            text(value, "summary"),
            text(value, "description"),
            value.TryGetProperty("parameters", out var parameters)
                ?
                [
                    .. parameters
                        .EnumerateArray()
                        .Select(p => new GuideField(
                            text(p, "name"),
                            GuideType.Of(p.GetProperty("schema")),
                            $"{(p.TryGetProperty("required", out var must) && must.GetBoolean() ? "needed" : "may be left out")}, in the {Where(text(p, "in"))}",
                            text(p, "description"),
                            ""
                        )),
                ]
                : [],
            value.TryGetProperty("requestBody", out var body) ? Content(body) : [],
            [
                .. value
                    .GetProperty("responses")
                    .EnumerateObject()
                    .Select(answer => new GuideAnswer(
                        answer.Name,
                        text(answer.Value, "description"),
                        Content(answer.Value)
                    )),
            ]
        );
    }

    private static string Where(string place) =>
        place switch
        {
            "path" => "address",
            "query" => "query",
            _ => place,
        };

    private static IReadOnlyList<GuideType> Content(JsonElement holder) =>
        holder.TryGetProperty("content", out var content)
            ?
            [
                .. content
                    .EnumerateObject()
                    .Select(type =>
                        type.Value.TryGetProperty("schema", out var schema) && schema.TryGetProperty("$ref", out _)
                            ? GuideType.Of(schema) with
                            {
                                MediaType = type.Name,
                            }
                            : new GuideType(type.Name, null)
                    ),
            ]
            : [];
}

public sealed record GuideAnswer(string Status, string Says, IReadOnlyList<GuideType> Gives);

/// <summary>A named shape with its fields, or the words of one that is a choice.</summary>
public sealed record GuideShape(
    string Name,
    string Says,
    IReadOnlyList<string> Choice,
    IReadOnlyList<GuideField> Fields
)
{
    internal static GuideShape Of(JsonProperty schema)
    {
        var needed = schema.Value.TryGetProperty("required", out var required)
            ? required.EnumerateArray().Select(name => name.GetString()!).ToHashSet()
            : [];
        return new(
            schema.Name,
            GuidePage.Text(schema.Value, "description"),
            schema.Value.TryGetProperty("enum", out var words)
                ?
                [
                    .. words
                        .EnumerateArray()
                        .Where(w => w.ValueKind == JsonValueKind.String)
                        .Select(w => w.GetString()!),
                ]
                : [],
            schema.Value.TryGetProperty("properties", out var fields)
                ?
                [
                    .. fields
                        .EnumerateObject()
                        .Select(field => new GuideField(
                            field.Name,
                            GuideType.Of(field.Value),
                            needed.Contains(field.Name) ? "always there" : "may be left out",
                            GuidePage.Text(field.Value, "description"),
                            field.Value.TryGetProperty("examples", out var examples) && examples.GetArrayLength() > 0
                                ? examples[0].GetRawText()
                                : ""
                        )),
                ]
                : []
        );
    }
}

public sealed record GuideField(string Name, GuideType Type, string Needed, string Says, string Example);

/// <param name="MediaType">Of a body; else the type in words.</param>
/// <param name="Shape">Name of the shape it leads to.</param>
public sealed record GuideType(string MediaType, string? Shape)
{
    private const string Null = "null";

    internal static GuideType Of(JsonElement schema)
    {
        if (schema.TryGetProperty("$ref", out var reference))
            return new("", reference.GetString()!.Split('/')[^1]);
        foreach (var choice in new[] { "oneOf", "anyOf" })
        {
            if (!schema.TryGetProperty(choice, out var all))
                continue;
            var types = all.EnumerateArray().Select(Of).ToList();
            var named = types.Find(type => type.Shape is not null);
            if (named is not null)
                return named with { MediaType = types.Count > 1 ? "or null" : "" };
        }
        var words = Words(schema);
        if (words.Contains("array") && schema.TryGetProperty("items", out var items))
        {
            var inner = Of(items);
            return inner.Shape is null ? new($"list of {inner.MediaType}", null) : inner with { MediaType = "list" };
        }
        var format = GuidePage.Text(schema, "format");
        var said = words.Where(word => word != Null).Select(word => Said(word, format)).FirstOrDefault() ?? "anything";
        return new(words.Contains(Null) ? $"{said} or null" : said, null);
    }

    private static List<string> Words(JsonElement schema) =>
        !schema.TryGetProperty("type", out var type) ? (schema.TryGetProperty("enum", out _) ? ["string"] : [])
        : type.ValueKind == JsonValueKind.Array ? [.. type.EnumerateArray().Select(word => word.GetString()!)]
        : [type.GetString()!];

    private static string Said(string word, string format) =>
        (word, format) switch
        {
            (_, "uuid") => "UUID",
            (_, "date") => "day",
            (_, "date-time") => "time, UTC",
            ("integer", _) => "whole number",
            ("number", _) => "number",
            ("boolean", _) => "true or false",
            ("object", _) => "object",
            _ => "text",
        };
}
