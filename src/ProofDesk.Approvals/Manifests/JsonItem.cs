using System.Collections.Immutable;
using System.Text;

namespace ProofDesk.Approvals.Manifests;

/// <summary>A value of the restricted JSON of <see cref="CanonicalJson"/>: no fractions and no null exist here at all.</summary>
public abstract record JsonItem
{
    private protected JsonItem() { }

    public static implicit operator JsonItem(string value) => new JsonText(value);

    public static implicit operator JsonItem(long value) => new JsonWhole(value);

    public static implicit operator JsonItem(bool value) => new JsonTruth(value);

    public static JsonItem FromString(string value) => value;

    public static JsonItem FromInt64(long value) => value;

    public static JsonItem FromBoolean(bool value) => value;
}

/// <summary>Text in Unicode normalisation form C.</summary>
public sealed record JsonText : JsonItem
{
    public JsonText(string value) => Value = Normalised(value);

    public string Value { get; }

    private static string Normalised(string value)
    {
        try
        {
            return value.Normalize(NormalizationForm.FormC);
        }
        catch (ArgumentException)
        {
            throw new RecordFormatException("a text has half a surrogate pair, which UTF-8 cannot hold");
        }
    }
}

/// <summary>An integer that every JSON reader holds exactly: at most 2^53 - 1 in size (RFC 7493 section 2.2).</summary>
public sealed record JsonWhole : JsonItem
{
    public const long Limit = (1L << 53) - 1;

    public JsonWhole(long value) =>
        Value = value is >= -Limit and <= Limit
            ? value
            : throw new RecordFormatException($"the number {value} is beyond 2^53 - 1 = {Limit}");

    public long Value { get; }
}

public sealed record JsonTruth(bool Value) : JsonItem;

public sealed record JsonList(ImmutableArray<JsonItem> Items) : JsonItem
{
    public static JsonList Of<T>(IEnumerable<T> values, Func<T, JsonItem> write) => new([.. values.Select(write)]);
}

/// <summary>An object: each key once, printable ASCII.</summary>
public sealed record JsonMembers(ImmutableSortedDictionary<string, JsonItem> Members) : JsonItem
{
    /// <summary>An object of these members; a member whose value is null is left out.</summary>
    public static JsonMembers Of(params (string Key, JsonItem? Value)[] members)
    {
        var sorted = ImmutableSortedDictionary.CreateBuilder<string, JsonItem>(StringComparer.Ordinal);
        foreach (var (key, value) in members)
        {
            if (value is not null)
            {
                sorted.Add(key, value);
            }
        }

        return new(sorted.ToImmutable());
    }
}
