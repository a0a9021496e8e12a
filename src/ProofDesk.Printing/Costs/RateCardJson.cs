using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace ProofDesk.Printing.Costs;

/// <summary>A rate card as a file and as the desk keeps it: its name, one number a field, the breaks of garment prices.</summary>
public static class RateCardJson
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, NewLine = "\n" };

    public static string Write(RateCard card)
    {
        var json = new JsonObject { ["name"] = card.Name };
        foreach (var field in RateField.All)
            json[field.Name] = Math.Round(field.Of(card), 6);
        json["garmentBreaks"] = new JsonArray([
            .. card.GarmentBreaks.Select(b => new JsonObject
            {
                ["from"] = b.From,
                ["percent"] = Math.Round(100 * b.Share, 6),
            }),
        ]);
        return json.ToJsonString(Indented) + "\n";
    }

    /// <summary>Reads what <see cref="Write"/> wrote; a field that is left out has its common practice.</summary>
    /// <param name="file">Its name, for messages.</param>
    /// <exception cref="RateProblem">Not such a file, an unknown field, or a number outside its range.</exception>
    public static RateCard Read(string json, string file)
    {
        JsonObject root;
        try
        {
            root =
                JsonNode.Parse(json) as JsonObject
                ?? throw new RateProblem($"{file}: not a rate card: it is no JSON object");
            // A name that stands twice is found when the object is first read.
            _ = root.Count;
        }
        catch (Exception e) when (e is JsonException or ArgumentException)
        {
            throw new RateProblem($"{file}{Line(e)}: not a rate card that is understood");
        }
        var card = RateCard.CommonPractice;
        foreach (var (name, value) in root)
            card = name switch
            {
                "name" => card with { Name = Text(value, file) },
                "garmentBreaks" => card with { GarmentBreaks = Breaks(value, file) },
                _ => RateField.All.FirstOrDefault(f => f.Name == name) is { } field
                    ? field.With(card, Number(value, file, name, field.Problem))
                    : throw new RateProblem($"{file}, field {name}: a rate card has no such field"),
            };
        return card;
    }

    /// <summary>What is wrong with breaks, or null.</summary>
    public static string? Problem(ImmutableArray<PriceBreak> breaks)
    {
        if (breaks.Length > 12)
            return $"{breaks.Length} steps are given; 12 are possible";
        for (var i = 0; i < breaks.Length; i++)
        {
            if (breaks[i].From is < 2 or > 1_000_000)
                return $"a step from {breaks[i].From} pieces is given; 2 to 1000000 is possible";
            if (i > 0 && breaks[i].From <= breaks[i - 1].From)
                return $"a step from {breaks[i].From} pieces comes after one from {breaks[i - 1].From}; write them in rising order";
            if (!(breaks[i].Share is > 0 and <= 1))
                return FormattableString.Invariant(
                    $"{100 * breaks[i].Share:0.###} % of the price is given; more than 0 and up to 100 is possible"
                );
        }
        return null;
    }

    private static string Text(JsonNode? value, string file) =>
        value is JsonValue text && text.TryGetValue<string>(out var name) && name.Trim().Length is > 0 and <= 80
            ? name.Trim()
            : throw new RateProblem($"{file}, field name: a name of 1 to 80 characters is needed");

    private static double Number(JsonNode? value, string file, string name, Func<double, string?> problem) =>
        value is not JsonValue number || !number.TryGetValue<double>(out var read)
            ? throw new RateProblem($"{file}, field {name}: a number is needed")
        : problem(read) is { } wrong ? throw new RateProblem($"{file}, field {name}: {wrong}")
        : read;

    private static ImmutableArray<PriceBreak> Breaks(JsonNode? value, string file)
    {
        const string field = "garmentBreaks";
        if (value is not JsonArray steps)
            throw new RateProblem($"{file}, field {field}: a list of {{ from, percent }} is needed");
        ImmutableArray<PriceBreak> breaks =
        [
            .. steps.Select(
                (step, i) =>
                    new PriceBreak(
                        (int)Number(
                            (step as JsonObject)?["from"],
                            file,
                            $"{field}[{i}].from",
                            n =>
                                n is < 2 or > 1_000_000 || n != Math.Floor(n)
                                    ? "2 to 1000000 whole pieces are possible"
                                    : null
                        ),
                        Number((step as JsonObject)?["percent"], file, $"{field}[{i}].percent", _ => null) / 100
                    )
            ),
        ];
        return Problem(breaks) is { } wrong ? throw new RateProblem($"{file}, field {field}: {wrong}") : breaks;
    }

    private static string Line(Exception e) =>
        (e as JsonException)?.LineNumber is { } line
            ? string.Create(CultureInfo.InvariantCulture, $", line {line + 1}")
            : "";
}

/// <summary>A file that is no rate card: what, and where.</summary>
public sealed class RateProblem(string message) : Exception(message)
{
    public string NextStep => "docs/costs.md shows a rate card with all its fields";
}
