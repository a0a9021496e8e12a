using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// Reads a file of hand work: JSON in which comments may stand. Everything wrong is said at once, with file, line and
/// field; docs/light-table.md describes it.
/// </summary>
public sealed class HandWorkText
{
    private static readonly string[] Fields =
    [
        "plate",
        "wedgePercent",
        "spreadUm",
        "angleDegrees",
        "linesPerInch",
        "dot",
        "mesh",
        "weakTones",
        "strokes",
        "flashAfter",
        "keepOut",
    ];

    private static readonly string[] Sides = ["xMm", "yMm", "widthMm", "heightMm"];

    private readonly string _file;
    private readonly List<(int Line, string What)> _problems = [];

    private HandWorkText(string file) => _file = file;

    /// <param name="file">Its name, for messages.</param>
    /// <returns>What could be understood, and each problem as a sentence: "by-hand.json, line 4, plate 'Red': ...".</returns>
    public static (HandWork Work, ImmutableArray<string> Problems) Read(string json, string file)
    {
        var reader = new HandWorkText(file);
        var work = reader.Read(json);
        return (work, [.. reader._problems.OrderBy(p => p.Line).Select(p => p.What)]);
    }

    private HandWork Read(string json)
    {
        JsonSpot root;
        try
        {
            root = JsonSpot.Parse(json);
        }
        catch (JsonException broken)
        {
            Wrong(
                (int)(broken.LineNumber ?? 0) + 1,
                null,
                "the text is not JSON from here on; look for a missing comma, quote or bracket"
            );
            return HandWork.None;
        }
        if (root["plates"] is not { Kind: JsonTokenType.StartArray } list)
        {
            Wrong(
                root.Line,
                null,
                "a list of plates is expected, such as { \"plates\": [ { \"plate\": \"White base\", \"spreadUm\": -100 } ] }"
            );
            return HandWork.None;
        }
        foreach (var (name, value) in root.Members.Where(m => m.Name != "plates"))
            Wrong(value.Line, null, $"there is no field '{name}' beside 'plates'");
        var edits = ImmutableArray.CreateBuilder<PlateEdit>();
        foreach (var item in list.Items)
            if (Plate(item) is { } edit)
                if (edits.Any(e => string.Equals(e.Plate, edit.Plate, StringComparison.OrdinalIgnoreCase)))
                    Wrong(item.Line, edit.Plate, "it stands in the list twice; write all of its changes in one place");
                else
                    edits.Add(edit);
        return new(edits.ToImmutable());
    }

    private PlateEdit? Plate(JsonSpot item)
    {
        if (item["plate"] is not { Kind: JsonTokenType.String } named)
        {
            Wrong(item.Line, null, "an entry does not say which plate it changes; the field 'plate' has its name");
            return null;
        }
        var plate = named.Text;
        foreach (var (name, value) in item.Members.Where(m => !Fields.Contains(m.Name)))
            Wrong(value.Line, plate, $"there is no field '{name}'; there are {string.Join(", ", Fields)}");
        var wedge = Wedge(plate, item["wedgePercent"]);
        var keepOut = KeepOuts(plate, item["keepOut"]);
        var edit = new PlateEdit(plate)
        {
            Wedge = wedge ?? [],
            SpreadUm = Number(plate, item, "spreadUm") ?? 0,
            AngleDegrees = Number(plate, item, "angleDegrees"),
            LinesPerInch = Number(plate, item, "linesPerInch"),
            Dot = OneOf<DotShape>(plate, item, "dot"),
            Mesh = Text(plate, item, "mesh"),
            WeakTones = OneOf<WeakTones>(plate, item, "weakTones"),
            Strokes = Whole(plate, item, "strokes"),
            FlashAfter = Truth(plate, item, "flashAfter"),
            KeepOut = keepOut,
        };
        foreach (var problem in PlateEditChecks.Of(edit))
            Wrong((item[problem.Field] ?? item).Line, plate, problem.What);
        return edit;
    }

    private ImmutableArray<double>? Wedge(string plate, JsonSpot? spot)
    {
        if (spot is null || spot.Kind == JsonTokenType.Null)
            return null;
        if (spot.Kind == JsonTokenType.StartArray && spot.Items.All(i => i.Number() is not null))
            return [.. spot.Items.Select(i => Math.Round(i.Number()!.Value, 3) / 100)];
        Wrong(
            spot.Line,
            plate,
            $"'wedgePercent' is a list of {PlateEdit.WedgeSteps} numbers, such as [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]; {spot.Says()} given"
        );
        return null;
    }

    private ImmutableArray<KeepOut> KeepOuts(string plate, JsonSpot? spot)
    {
        if (spot is null || spot.Kind == JsonTokenType.Null)
            return [];
        if (
            spot.Kind == JsonTokenType.StartArray
            && spot.Items.All(i => Sides.All(side => i[side]?.Number() is not null) && i.Members.Length == Sides.Length)
        )
            return [.. spot.Items.Select(i => new KeepOut(Side(i, 0), Side(i, 1), Side(i, 2), Side(i, 3)))];
        Wrong(
            spot.Line,
            plate,
            "'keepOut' is a list of rectangles in mm from the print's top left corner, such as { \"xMm\": 10, \"yMm\": 20, \"widthMm\": 30, \"heightMm\": 8 }"
        );
        return [];

        static double Side(JsonSpot box, int side) => box[Sides[side]]!.Number()!.Value;
    }

    private double? Number(string plate, JsonSpot item, string field)
    {
        if (item[field] is not { } spot || spot.Kind == JsonTokenType.Null)
            return null;
        if (spot.Number() is { } number)
            return number;
        Wrong(spot.Line, plate, $"'{field}' is a number; {spot.Says()} given");
        return null;
    }

    private int? Whole(string plate, JsonSpot item, string field)
    {
        if (item[field] is not { } spot || spot.Kind == JsonTokenType.Null)
            return null;
        if (spot.Number() is { } number && number == Math.Floor(number) && Math.Abs(number) < 1000)
            return (int)number;
        Wrong(spot.Line, plate, $"'{field}' is a whole number; {spot.Says()} given");
        return null;
    }

    private string? Text(string plate, JsonSpot item, string field)
    {
        if (item[field] is not { } spot || spot.Kind == JsonTokenType.Null)
            return null;
        if (spot.Kind == JsonTokenType.String)
            return spot.Text;
        Wrong(spot.Line, plate, $"'{field}' is a text in quotes; {spot.Says()} given");
        return null;
    }

    private bool? Truth(string plate, JsonSpot item, string field)
    {
        if (item[field] is not { } spot || spot.Kind == JsonTokenType.Null)
            return null;
        if (spot.Kind is JsonTokenType.True or JsonTokenType.False)
            return spot.Kind == JsonTokenType.True;
        Wrong(spot.Line, plate, $"'{field}' is true or false; {spot.Says()} given");
        return null;
    }

    private T? OneOf<T>(string plate, JsonSpot item, string field)
        where T : struct, Enum
    {
        if (item[field] is not { } spot || spot.Kind == JsonTokenType.Null)
            return null;
        foreach (var value in Enum.GetValues<T>())
            if (spot.Kind == JsonTokenType.String && spot.Text == HandWorkJson.Word(value))
                return value;
        Wrong(
            spot.Line,
            plate,
            $"'{field}' is one of {string.Join(", ", Enum.GetValues<T>().Select(HandWorkJson.Word))}; {spot.Says()} given"
        );
        return null;
    }

    private void Wrong(int line, string? plate, string what) =>
        _problems.Add((line, $"{_file}, line {line}{(plate is null ? "" : $", plate '{plate}'")}: {what}"));
}
