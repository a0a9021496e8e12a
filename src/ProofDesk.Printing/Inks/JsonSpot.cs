using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace ProofDesk.Printing.Inks;

/// <summary>A JSON value that knows its line, so that a shop's file can be corrected where it is wrong.</summary>
internal sealed record JsonSpot(JsonTokenType Kind, string Text, int Line)
{
    public ImmutableArray<(string Name, JsonSpot Value)> Members { get; init; } = [];
    public ImmutableArray<JsonSpot> Items { get; init; } = [];

    public JsonSpot? this[string name] => Members.FirstOrDefault(member => member.Name == name).Value;

    /// <exception cref="JsonException">Not JSON; it knows the line.</exception>
    public static JsonSpot Parse(string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        var reader = new Utf8JsonReader(
            bytes,
            new JsonReaderOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true }
        );
        reader.Read();
        var root = Value(ref reader, bytes);
        // What follows the value, when it is more than blanks, throws here.
        reader.Read();
        return root;
    }

    public double? Number() =>
        Kind == JsonTokenType.Number
        && double.TryParse(Text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
        && double.IsFinite(number)
            ? number
            : null;

    /// <summary>"a text", "a number"... for messages.</summary>
    public string Says() =>
        Kind switch
        {
            JsonTokenType.String => $"the text \"{(Text.Length > 40 ? Text[..40] + "..." : Text)}\"",
            JsonTokenType.Number => Text,
            JsonTokenType.StartArray => $"a list of {Items.Length}",
            JsonTokenType.StartObject => "an object",
            JsonTokenType.Null => "null",
            _ => Kind == JsonTokenType.True ? "true" : "false",
        };

    private static JsonSpot Value(ref Utf8JsonReader reader, byte[] bytes)
    {
        var line = 1 + bytes.AsSpan(0, (int)reader.TokenStartIndex).Count((byte)'\n');
        var spot = new JsonSpot(
            reader.TokenType,
            reader.TokenType switch
            {
                JsonTokenType.String => reader.GetString()!,
                JsonTokenType.Number => Encoding.UTF8.GetString(reader.ValueSpan),
                _ => "",
            },
            line
        );
        if (reader.TokenType == JsonTokenType.StartArray)
        {
            var items = ImmutableArray.CreateBuilder<JsonSpot>();
            while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
                items.Add(Value(ref reader, bytes));
            return spot with { Items = items.ToImmutable() };
        }
        if (reader.TokenType == JsonTokenType.StartObject)
        {
            var members = ImmutableArray.CreateBuilder<(string, JsonSpot)>();
            while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
            {
                var name = reader.GetString()!;
                reader.Read();
                members.Add((name, Value(ref reader, bytes)));
            }
            return spot with { Members = members.ToImmutable() };
        }
        return spot;
    }
}
