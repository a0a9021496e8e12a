using System.Collections.Immutable;
using System.Globalization;
using System.Reflection;
using System.Text.Json;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Printing.Proofs;

/// <summary>Values of a recipe by the types they were written from: what <see cref="RecipeWriter"/> does, the other way round.</summary>
internal sealed class RecipeValues(IReadOnlyDictionary<string, string> digits, string engine)
{
    private readonly NullabilityInfoContext nullability = new();
    private readonly HashSet<string> used = new(StringComparer.Ordinal);
    private readonly Dictionary<string, object> alike = new(StringComparer.Ordinal);

    public int DigitsLeftAside => digits.Count - used.Count;

    /// <summary>Behind a problem: what may be the reason of it.</summary>
    public string OtherEngine =>
        engine == ProofMaker.EngineVersion
            ? ""
            : $"; the recipe is of engine {engine}, this program is {ProofMaker.EngineVersion}: use a program of that version";

    public T Part<T>(JsonElement item, string at) => (T)Value(typeof(T), item, at, null)!;

    public JsonElement Member(JsonElement item, string name, string at = "") =>
        item.ValueKind == JsonValueKind.Object && item.TryGetProperty(name, out var member)
            ? member
            : throw Problem(Join(at, name), "is missing");

    public void Only(JsonElement item, string at, string[] names)
    {
        foreach (var member in Object(item, at))
            if (!names.Contains(member.Name, StringComparer.Ordinal))
                throw Unknown(Join(at, member.Name));
    }

    public IEnumerable<(JsonElement Item, string At)> Items(JsonElement item, string at) =>
        item.ValueKind == JsonValueKind.Array
            ? item.EnumerateArray().Select((one, i) => (one, string.Create(CultureInfo.InvariantCulture, $"{at}[{i}]")))
            : throw Problem(at, "must be a list");

    /// <param name="given">Members that are read elsewhere.</param>
    public object Members(Type type, JsonElement item, string at, IReadOnlyDictionary<string, object?>? given = null)
    {
        var properties = RecipeWriter.Properties(type).ToDictionary(p => p.Name, StringComparer.Ordinal);
        var found = new Dictionary<string, object?>(given ?? ImmutableDictionary<string, object?>.Empty);
        foreach (var member in Object(item, at))
        {
            if (found.ContainsKey(member.Name))
                continue;
            var property = properties.GetValueOrDefault(member.Name) ?? throw Unknown(Join(at, member.Name));
            found[member.Name] = Value(property.PropertyType, member.Value, Join(at, member.Name), property);
        }
        foreach (var property in properties.Values)
            if (!found.ContainsKey(property.Name) && !property.IsDefined(typeof(LaterSettingAttribute)))
                throw Problem(Join(at, property.Name), "is missing");
        return Make(type, properties, found, at);
    }

    private object Make(
        Type type,
        Dictionary<string, PropertyInfo> properties,
        Dictionary<string, object?> found,
        string at
    )
    {
        // Of a record's constructors the one that takes its members; the one that copies takes none.
        var constructor = type.GetConstructors()
            .Where(c => c.GetParameters().All(p => properties.ContainsKey(p.Name!)))
            .OrderByDescending(c => c.GetParameters().Length)
            .FirstOrDefault();
        if (constructor is null)
            throw Problem(at, $"is a {type.Name}, which a recipe does not hold in full");
        try
        {
            var parameters = constructor.GetParameters();
            var made = constructor.Invoke([.. parameters.Select(p => found[p.Name!])]);
            foreach (var (name, property) in properties)
                if (found.TryGetValue(name, out var value) && !parameters.Any(p => p.Name == name))
                    property.SetValue(made, value);
            return made;
        }
        catch (TargetInvocationException refused) when (refused.InnerException is ArgumentException why)
        {
            throw Problem(at, why.Message);
        }
    }

    private object? Value(Type type, JsonElement item, string at, PropertyInfo? property)
    {
        if (item.ValueKind == JsonValueKind.Null)
            return MayBeNull(type, property) ? null : throw Problem(at, "is null");
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (type == typeof(string))
            return Text(item, at);
        if (type == typeof(double))
            return Fraction(item, at);
        if (type == typeof(bool))
            return item.ValueKind is JsonValueKind.True or JsonValueKind.False
                ? item.GetBoolean()
                : throw Problem(at, "must be true or false");
        if (type == typeof(int))
            return item.ValueKind == JsonValueKind.Number && item.TryGetInt32(out var whole)
                ? whole
                : throw Problem(at, "must be a whole number");
        if (type == typeof(ulong))
            return ulong.TryParse(Text(item, at), NumberStyles.None, CultureInfo.InvariantCulture, out var big)
                ? big
                : throw Problem(at, "must be a whole number in quotes");
        if (type.IsEnum)
            return Enum.TryParse(type, Text(item, at), out var word) && Enum.IsDefined(type, word!)
                ? word
                : throw Problem(at, $"is '{Text(item, at)}', must be one of {string.Join(", ", Enum.GetNames(type))}");
        if (type == typeof(HandWork))
            return Hands(item, at);
        if (type == typeof(Spectrum))
            return Alike(item, at, null, () => Bands(item, at));
        if (type == typeof(Ink))
            return Alike(item, at, Named(item, InkLibrary.Find), () => Members(type, item, at));
        if (type == typeof(DyeKind))
            return Alike(item, at, Named(item, DyeKind.Find), () => Members(type, item, at));
        if (type == typeof(ImmutableDictionary<string, bool>))
            return Object(item, at).ToImmutableDictionary(m => m.Name, m => Part<bool>(m.Value, Join(at, m.Name)));
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>))
            return List(type.GenericTypeArguments[0], item, at);
        return Members(type, item, at);
    }

    private bool MayBeNull(Type type, PropertyInfo? property) =>
        Nullable.GetUnderlyingType(type) is not null
        || (
            !type.IsValueType
            && property is not null
            && nullability.Create(property).ReadState == NullabilityState.Nullable
        );

    private object List(Type type, JsonElement item, string at)
    {
        var items = Items(item, at).Select(one => Value(type, one.Item, one.At, null)).ToArray();
        var typed = Array.CreateInstance(type, items.Length);
        items.CopyTo(typed, 0);
        return typeof(ImmutableArray)
            .GetMethods()
            .Single(m =>
                m.Name == nameof(ImmutableArray.Create) && m.GetParameters() is [{ ParameterType.IsArray: true }]
            )
            .MakeGenericMethod(type)
            .Invoke(null, [typed])!;
    }

    /// <summary>Nine places, and those behind them where they are known and belong to these nine.</summary>
    private double Fraction(JsonElement item, string at)
    {
        if (item.ValueKind != JsonValueKind.Number || !item.TryGetInt64(out var billionths))
            throw Problem(at, "must be a whole number of billionths");
        if (
            digits.TryGetValue(at, out var text)
            && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var exact)
            && Math.Abs(exact) < 9e9
            && RecipeWriter.Billionths(exact) == billionths
        )
        {
            used.Add(at);
            return exact;
        }
        return billionths / RecipeWriter.Billion;
    }

    private Spectrum Bands(JsonElement item, string at)
    {
        var bands = Items(item, at).Select(band => Fraction(band.Item, band.At)).ToArray();
        return bands.Length == Spectrum.Bands
            ? Spectrum.Of(bands)
            : throw Problem(at, $"has {bands.Length} bands, must have {Spectrum.Bands}");
    }

    private HandWork Hands(JsonElement item, string at)
    {
        var (work, problems) = HandWorkText.Read(Text(item, at), at);
        return problems.IsEmpty ? work : throw new RecipeProblem(string.Join("; ", problems));
    }

    /// <summary>
    /// One instance for all that are the same, and the program's own where it has it: inks and dyes are compared by identity in
    /// places, and a metal is known by its ink only.
    /// </summary>
    private object Alike(JsonElement item, string at, object? own, Func<object> read)
    {
        if (own is not null && IsWritten(own, item, at))
            return own;
        var made = read();
        var key = made.GetType().Name + RecipeWriter.Exactly(made);
        if (!alike.TryAdd(key, made))
            made = alike[key];
        return made;
    }

    /// <summary>Whether this is what stands there, to the last place that is known.</summary>
    private bool IsWritten(object own, JsonElement item, string at)
    {
        var (json, exact) = RecipeWriter.Part(own);
        if (json != item.GetRawText())
            return false;
        if (exact.Any(place => digits.TryGetValue($"{at}.{place.Key}", out var text) && text != place.Value))
            return false;
        foreach (var place in exact.Keys.Select(place => $"{at}.{place}").Where(digits.ContainsKey))
            used.Add(place);
        return true;
    }

    private static object? Named<T>(JsonElement item, Func<string, T?> find)
        where T : class =>
        item.ValueKind == JsonValueKind.Object
        && item.TryGetProperty("Id", out var id)
        && id.ValueKind == JsonValueKind.String
            ? find(id.GetString()!)
            : null;

    private static string Text(JsonElement item, string at) =>
        item.ValueKind == JsonValueKind.String ? item.GetString()! : throw new RecipeProblem($"{at} must be a text");

    private JsonElement.ObjectEnumerator Object(JsonElement item, string at) =>
        item.ValueKind == JsonValueKind.Object ? item.EnumerateObject() : throw Problem(at, "must be an object");

    private static string Join(string at, string name) => at.Length == 0 ? name : $"{at}.{name}";

    private RecipeProblem Unknown(string at) => Problem(at, "is a setting this program does not know");

    private RecipeProblem Problem(string at, string what) =>
        new($"{(at.Length == 0 ? "the recipe" : at)} {what}{OtherEngine}");
}
