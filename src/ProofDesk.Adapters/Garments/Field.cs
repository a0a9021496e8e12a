using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>A JSON value that knows its path, so that every complaint names its field.</summary>
/// <param name="Measures">The measures that every size of the garment has: what its drawing may be made of.</param>
internal readonly record struct Field(JsonElement Element, string Path, ImmutableArray<string> Measures)
{
    public string Name => Path[(Path.LastIndexOf('.') + 1)..];

    public Field this[string name] =>
        Element.ValueKind == JsonValueKind.Object && Element.TryGetProperty(name, out var value)
            ? new Field(value, Path.Length == 0 ? name : $"{Path}.{name}", Measures)
            : throw new GarmentFormatException(Path.Length == 0 ? name : $"{Path}.{name}", "is missing");

    public bool Has(string name) => Element.ValueKind == JsonValueKind.Object && Element.TryGetProperty(name, out _);

    /// <summary>Several, one of which is needed.</summary>
    public ImmutableArray<T> AtLeastOne<T>(Func<Field, T> read)
    {
        var items = Items().Select(read).ToImmutableArray();
        return items.Length > 0 ? items : throw new GarmentFormatException(Path, "the list is empty, one is needed");
    }

    /// <summary>Refuses a second item with the same key.</summary>
    public void NoneTwice<T>(IEnumerable<T> keys)
    {
        var seen = new HashSet<T>();
        var i = 0;
        foreach (var key in keys)
        {
            if (!seen.Add(key))
                throw new GarmentFormatException($"{Path}[{i}]", $"\"{key}\" is there twice; rename or remove one");
            i++;
        }
    }

    public IEnumerable<Field> Items()
    {
        if (Element.ValueKind != JsonValueKind.Array)
            throw new GarmentFormatException(Path, "a list is needed");
        var (path, measures) = (Path, Measures);
        return Element.EnumerateArray().Select((e, i) => new Field(e, $"{path}[{i}]", measures));
    }

    public IEnumerable<Field> Members()
    {
        if (Element.ValueKind != JsonValueKind.Object)
            throw new GarmentFormatException(Path, "an object is needed");
        var (path, measures) = (Path, Measures);
        return Element.EnumerateObject().Select(p => new Field(p.Value, $"{path}.{p.Name}", measures));
    }

    public string Text() =>
        Element.ValueKind == JsonValueKind.String && Element.GetString() is { Length: > 0 } text
            ? text
            : throw new GarmentFormatException(Path, "a text is needed");

    public bool Flag() =>
        Element.ValueKind switch
        {
            JsonValueKind.True => true,
            JsonValueKind.False => false,
            _ => throw new GarmentFormatException(Path, "true or false is needed"),
        };

    public double Number(double least, double most)
    {
        if (Element.ValueKind != JsonValueKind.Number || !Element.TryGetDouble(out var number))
            throw new GarmentFormatException(Path, "a number is needed");
        return number >= least && number <= most
            ? number
            : throw new GarmentFormatException(Path, $"{number} is outside {least} to {most}");
    }

    public T OneOf<T>()
        where T : struct, Enum
    {
        var text = Text();
        return Enum.TryParse<T>(text.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var value)
            ? value
            : throw new GarmentFormatException(
                Path,
                $"\"{text}\" is not known; one of {string.Join(", ", Enum.GetNames<T>())} is needed"
            );
    }

    public Lab Lab()
    {
        var values = Items().Select(i => i.Number(-200, 200)).ToArray();
        return values.Length == 3
            ? new Lab(values[0], values[1], values[2])
            : throw new GarmentFormatException(Path, $"Lab takes three numbers, {values.Length} given");
    }

    public GradedPath Path_() => GradedText.Path([.. Items().Select(i => i.Text())], Path, Measures);

    /// <summary>A path that encloses something in the size given.</summary>
    public GradedPath Outline(IEnumerable<GarmentSize> sizes)
    {
        var outline = Path_();
        if (!outline.Closed)
            throw new GarmentFormatException(Path, "an outline is closed; end it with \"Z\"");
        foreach (var size in sizes)
            if (Math.Abs(PolygonArea.Of(outline.Flatten(size, 2))) < 1)
                throw new GarmentFormatException(
                    Path,
                    $"the outline encloses nothing in size {size.Size}; give at least three points that are not on one line"
                );
        return outline;
    }

    public GradedPoint Point() => GradedText.Point(Text(), Path, Measures);

    public GradedLength Length() => GradedText.Length(Text(), Path, Measures);
}
