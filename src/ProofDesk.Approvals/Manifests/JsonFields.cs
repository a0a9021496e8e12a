using System.Collections.Immutable;
using System.Globalization;

namespace ProofDesk.Approvals.Manifests;

/// <summary>Takes the members of an object one by one; each refusal names the field, and a member nobody took is refused.</summary>
internal sealed class JsonFields
{
    private readonly string path;
    private readonly ImmutableSortedDictionary<string, JsonItem> members;
    private readonly HashSet<string> taken = new(StringComparer.Ordinal);

    private JsonFields(JsonItem item, string path)
    {
        this.path = path;
        members = item is JsonMembers given
            ? given.Members
            : throw new RecordFormatException($"{(path.Length == 0 ? "the document" : path)} must be an object");
    }

    /// <summary>Reads an object with <paramref name="read"/> and checks that it has no further members.</summary>
    public static T Read<T>(JsonItem item, string path, Func<JsonFields, T> read)
    {
        var fields = new JsonFields(item, path);
        var value = read(fields);
        var unknown = fields.members.Keys.FirstOrDefault(k => !fields.taken.Contains(k));
        return unknown is null
            ? value
            : throw new RecordFormatException($"{fields.Name(unknown)} is not a member this format knows");
    }

    public string Text(string key, int max = 200, int min = 1)
    {
        var text = Take(key) is JsonText t ? t.Value : throw Wrong(key, "must be a text");
        return text.Length >= min && text.Length <= max
            ? text
            : throw Wrong(key, $"has {text.Length} characters, must be {min} to {max}");
    }

    public string? OptionalText(string key, int max) => members.ContainsKey(key) ? Text(key, max) : null;

    public void Exactly(string key, string expected)
    {
        var text = Text(key);
        if (!string.Equals(text, expected, StringComparison.Ordinal))
        {
            throw Wrong(key, $"is '{text}', must be '{expected}'");
        }
    }

    public long Whole(string key, long min, long max)
    {
        var value = Take(key) is JsonWhole w ? w.Value : throw Wrong(key, "must be a whole number");
        return value >= min && value <= max ? value : throw Wrong(key, $"is {value}, must be {min} to {max}");
    }

    public int Int(string key, int min, int max) => (int)Whole(key, min, max);

    public bool Truth(string key) => Take(key) is JsonTruth t ? t.Value : throw Wrong(key, "must be true or false");

    public Sha256Digest Digest(string key) =>
        Sha256Digest.TryParse(Text(key), out var digest)
            ? digest
            : throw Wrong(key, "must be 'sha256:' and 64 lower-case hexadecimal digits");

    public Sha256Digest? OptionalDigest(string key) => members.ContainsKey(key) ? Digest(key) : null;

    public string Hex(string key, int digits)
    {
        var text = Text(key);
        return text.Length == digits && text.All(char.IsAsciiHexDigitLower)
            ? text
            : throw Wrong(key, $"must be {digits} lower-case hexadecimal digits");
    }

    public T Word<T>(string key, WordList<T> words)
        where T : struct, Enum
    {
        var text = Text(key);
        return words.TryRead(text, out var value)
            ? value
            : throw Wrong(key, $"is '{text}', must be one of {string.Join(", ", words.Words)}");
    }

    public DateTimeOffset Time(string key)
    {
        var text = Text(key);
        return UtcText.TryRead(text, out var time)
            ? time
            : throw Wrong(key, $"is '{text}', must look like 2026-11-24T22:08:34.120Z");
    }

    public DateTimeOffset? OptionalTime(string key) => members.ContainsKey(key) ? Time(key) : null;

    public LabHundredths Lab(string key)
    {
        var items = Take(key) is JsonList list ? list.Items : throw Wrong(key, "must be a list");
        return
            items is [JsonWhole l, JsonWhole a, JsonWhole b]
            && l.Value is >= 0 and <= 20000
            && a.Value is >= -20000 and <= 20000
            && b.Value is >= -20000 and <= 20000
            ? new((int)l.Value, (int)a.Value, (int)b.Value)
            : throw Wrong(
                key,
                "must be L, a, b in hundredths: three whole numbers, L 0 to 20000, a and b -20000 to 20000"
            );
    }

    public T Object<T>(string key, Func<JsonFields, T> read) => Read(Take(key), Name(key), read);

    public T? OptionalObject<T>(string key, Func<JsonFields, T> read)
        where T : class => members.ContainsKey(key) ? Object(key, read) : null;

    public ImmutableArray<T> List<T>(string key, int min, int max, Func<JsonFields, T> read) =>
        Items(key, min, max, (item, name) => Read(item, name, read));

    public ImmutableArray<string> Texts(string key, int max, int maxLength) =>
        Items(
            key,
            0,
            max,
            (item, name) =>
                item is JsonText { Value.Length: > 0 } text && text.Value.Length <= maxLength
                    ? text.Value
                    : throw new RecordFormatException($"{name} must be a text of 1 to {maxLength} characters")
        );

    public IEnumerable<string> Keys => members.Keys;

    public RecordFormatException Wrong(string key, string what) => new($"{Name(key)} {what}");

    private ImmutableArray<T> Items<T>(string key, int min, int max, Func<JsonItem, string, T> read)
    {
        var items = Take(key) is JsonList list ? list.Items : throw Wrong(key, "must be a list");
        return items.Length >= min && items.Length <= max
            ?
            [
                .. items.Select(
                    (item, i) => read(item, string.Create(CultureInfo.InvariantCulture, $"{Name(key)}[{i}]"))
                ),
            ]
            : throw Wrong(key, $"has {items.Length} entries, must be {min} to {max}");
    }

    private JsonItem Take(string key)
    {
        taken.Add(key);
        return members.TryGetValue(key, out var item) ? item : throw Wrong(key, "is missing");
    }

    private string Name(string key) => path.Length == 0 ? key : $"{path}.{key}";
}
