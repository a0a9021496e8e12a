using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Inks;

/// <summary>One entry of an ink file: an ink id or #rrggbb as a word, or an ink of the shop.</summary>
public sealed record InkFileEntry(int Line, string? Word, InkDefinition? Definition);

/// <summary>
/// The JSON of an ink file: a list, or an object whose "inks" is one; docs/ink-files.md. Says file, line and field of everything
/// that is wrong.
/// </summary>
public sealed class InkFileText
{
    private static readonly string[] Fields =
    [
        "id",
        "name",
        "kind",
        "role",
        "measurement",
        "measurementText",
        "lab",
        "light",
        "mesh",
        "volumeSolids",
        "densityGramsPerCm3",
        "formula",
        "target",
    ];

    private readonly string _file;
    private readonly Func<string, string?> _open;
    private readonly List<InkProblem> _problems = [];

    private InkFileText(string file, Func<string, string?> open) => (_file, _open) = (file, open);

    /// <param name="open">The text of a measurement file named in the ink file, null when there is none.</param>
    public static (ImmutableArray<InkFileEntry> Entries, ImmutableArray<InkProblem> Problems) Read(
        string json,
        string file,
        Func<string, string?> open
    )
    {
        var reader = new InkFileText(file, open);
        var entries = reader.Read(json);
        return (entries, [.. reader._problems]);
    }

    private ImmutableArray<InkFileEntry> Read(string json)
    {
        JsonSpot root;
        try
        {
            root = JsonSpot.Parse(json);
        }
        catch (JsonException broken)
        {
            var line = (int)(broken.LineNumber ?? 0) + 1;
            Wrong(
                "not-json",
                line,
                "",
                "the text is not JSON from here on; look for a missing comma, quote or bracket"
            );
            return [];
        }
        if (root.Kind == JsonTokenType.StartObject && root["id"] is not null)
            return [new(root.Line, null, Definition(root))];
        var list = root.Kind == JsonTokenType.StartObject ? root["inks"] : root;
        if (list?.Kind != JsonTokenType.StartArray)
        {
            Wrong(
                "no-list",
                root.Line,
                "inks",
                "a list is expected, such as [\"white\", \"#d02030\", { \"id\": \"harbour-red\", \"measurement\": \"harbour-red.txt\" }]"
            );
            return [];
        }
        return [.. list.Items.Select(Entry)];
    }

    private InkFileEntry Entry(JsonSpot item)
    {
        if (item.Kind == JsonTokenType.String)
            return new(item.Line, item.Text, null);
        if (item.Kind == JsonTokenType.StartObject)
            return new(item.Line, null, Definition(item));
        Wrong(
            "no-ink",
            item.Line,
            "inks",
            $"{item.Says()}; the id of an ink, a colour #rrggbb or an object is possible"
        );
        return new(item.Line, null, null);
    }

    private InkDefinition? Definition(JsonSpot ink)
    {
        var before = _problems.Count;
        foreach (var (name, value) in ink.Members)
            if (!Fields.Contains(name))
                Wrong("unknown-field", value.Line, name, $"no such field; {string.Join(", ", Fields)} are possible");
        var id = Text(ink, "id") ?? "";
        var definition = new InkDefinition(
            id,
            Text(ink, "name") ?? id,
            OneOf(ink["kind"], "kind", InkKind.Plastisol, InkDefinition.Kinds.Select(k => (InkDefinition.Word(k), k))),
            OneOf(
                ink["role"],
                "role",
                InkRole.Colour,
                Enum.GetValues<InkRole>().Select(r => (r.ToString().ToLowerInvariant(), r))
            )
        )
        {
            Measurement = Measurement(ink),
            Solid = Solid(ink),
            VolumeSolids = NumberOf(ink, "volumeSolids"),
            DensityGramsPerCm3 = NumberOf(ink, "densityGramsPerCm3"),
            Formula = Formula(ink["formula"]),
            Target = Target(ink["target"]),
            Lines = ink
                .Members.Append(("id", ink["id"] ?? ink))
                .Concat(
                    ink["target"]?.Members.Select(m => ($"target.{m.Name}", m.Value))
                        ?? Enumerable.Empty<(string, JsonSpot)>()
                )
                .GroupBy(m => m.Item1)
                .ToImmutableDictionary(g => g.Key, g => g.First().Item2.Line),
        };
        if (ink["id"] is null)
            Wrong(
                "field-missing",
                ink.Line,
                "id",
                "the field is missing; name the ink, such as \"id\": \"harbour-red\""
            );
        return _problems.Count == before ? definition : null;
    }

    private MeasurementText? Measurement(JsonSpot ink)
    {
        if (Text(ink, "measurement") is not { } name)
            return null;
        if (Text(ink, "measurementText") is { } text)
            return new(name, text);
        if (_open(name) is { } found)
            return new(name, found);
        Wrong(
            "no-file",
            ink["measurement"]!.Line,
            "measurement",
            $"there is no file \"{name}\"; its name is relative to this file"
        );
        return null;
    }

    private SolidLab? Solid(JsonSpot ink) =>
        ink["lab"] is { } lab && LabOf(lab, "lab") is { } three
            ? new(three, Light(ink["light"], "light"), Text(ink, "mesh") ?? UsualMesh)
            : null;

    /// <summary>The mesh a solid was printed through when nobody says so.</summary>
    public const string UsualMesh = "61-64";

    private InkFormula? Formula(JsonSpot? list)
    {
        if (list is null)
            return null;
        if (list.Kind != JsonTokenType.StartArray)
        {
            Wrong(
                "formula",
                list.Line,
                "formula",
                $"{list.Says()}; a list of parts is expected, such as [{{ \"name\": \"Red paste\", \"gramsPerKg\": 180 }}]"
            );
            return null;
        }
        var parts = ImmutableArray.CreateBuilder<FormulaPart>();
        foreach (var part in list.Items)
        {
            var name = part["name"] is { Kind: JsonTokenType.String } text ? text.Text : null;
            var grams = part["gramsPerKg"]?.Number() ?? 10 * part["percent"]?.Number();
            if (name is null || grams is null)
                Wrong(
                    "formula",
                    part.Line,
                    "formula",
                    "a part needs a \"name\" and \"gramsPerKg\" or \"percent\" with a number"
                );
            else
                parts.Add(new(name, grams.Value));
        }
        return new(parts.ToImmutable());
    }

    private InkTarget? Target(JsonSpot? target)
    {
        if (target is null)
            return null;
        if (target["lab"] is not { } lab)
        {
            Wrong(
                "target",
                target.Line,
                "target.lab",
                "the field is missing; write the wanted L*, a*, b*, such as [45, 68, 42]"
            );
            return null;
        }
        var tolerance = target["tolerance"] is { } given ? given.Number() : 2;
        if (tolerance is null)
            Wrong(
                "target",
                target["tolerance"]!.Line,
                "target.tolerance",
                $"{target["tolerance"]!.Says()} is not a number; write the largest dE00 that passes"
            );
        return LabOf(lab, "target.lab") is { } three && tolerance is { } most
            ? new(three, most, Light(target["light"], "target.light"))
            : null;
    }

    private Lab? LabOf(JsonSpot spot, string field)
    {
        if (spot.Items is [var l, var a, var b] && l.Number() is { } x && a.Number() is { } y && b.Number() is { } z)
            return new(x, y, z);
        Wrong("lab", spot.Line, field, $"{spot.Says()}; three numbers are expected, such as [45, 68, 42]");
        return null;
    }

    private ViewingLight Light(JsonSpot? spot, string field) =>
        OneOf(spot, field, ViewingLight.D50, Enum.GetValues<ViewingLight>().Select(light => (light.ToString(), light)));

    private T OneOf<T>(JsonSpot? spot, string field, T usual, IEnumerable<(string Word, T Value)> words)
    {
        if (spot is null)
            return usual;
        foreach (var (word, value) in words)
            if (spot.Kind == JsonTokenType.String && spot.Text == word)
                return value;
        Wrong(field, spot.Line, field, $"{spot.Says()}; {string.Join(", ", words.Select(w => w.Word))} is possible");
        return usual;
    }

    private string? Text(JsonSpot ink, string field)
    {
        if (ink[field] is not { } spot)
            return null;
        if (spot.Kind == JsonTokenType.String)
            return spot.Text;
        Wrong(field, spot.Line, field, $"{spot.Says()}; a text in quotes is expected");
        return null;
    }

    private double? NumberOf(JsonSpot ink, string field)
    {
        if (ink[field] is not { } spot)
            return null;
        if (spot.Number() is { } number)
            return number;
        Wrong(field, spot.Line, field, $"{spot.Says()} is not a number");
        return null;
    }

    private void Wrong(string code, int line, string field, string what) =>
        _problems.Add(new(code, _file, line, field, what));
}
