using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Adapters.Garments;

/// <summary>Cloth of a kind, in the numbers of the garments that ship (common practice, docs/garment-format.md).</summary>
public sealed record ClothKind(
    string Id,
    string Words,
    bool Woven,
    double Across,
    double Down,
    double ThicknessMm,
    double ScatteringPerUm
)
{
    public static ImmutableArray<ClothKind> All { get; } =
    [
        new("jersey", "jersey, as a tee", false, 0.75, 0.58, 0.5, 0.006),
        new("fleece", "fleece, as a hoodie", false, 0.8, 0.6, 1.3, 0.006),
        new("canvas", "plain weave, as a tote", true, 0.62, 0.7, 0.6, 0.006),
    ];
}

/// <summary>Writes the garment file of a photographed garment: one size, one colour, one side, as the photograph shows it.</summary>
/// <param name="Lab">A measured or a maker's Lab (D50) in place of the photographed one; null = as photographed.</param>
public sealed record PhotographedGarment(
    string Id,
    string Name,
    string Size,
    GarmentSide Side,
    string ColourName,
    ImmutableArray<FibreShare> Fibres,
    ClothKind Cloth,
    Lab? Lab,
    GarmentPhotograph Photograph
)
{
    /// <summary>Width from side seam to side seam, mm; null = read off the cloth.</summary>
    public double? ChestMm { get; init; }

    /// <summary>Collar seam to hem, mm; null = read off the cloth.</summary>
    public double? LengthMm { get; init; }

    public byte[] Write(PhotoReading reading)
    {
        var outline = Photograph.Marks.Area.Select(reading.Scale.ToMm).ToArray();
        var ground = Lab ?? reading.Light.Ground;
        var size = PhotoSize.Of(reading);
        var json = new JsonObject
        {
            ["schema"] = GarmentFile.Schema,
            ["id"] = Id,
            ["name"] = Name,
            ["note"] =
                "made from a photograph; its outline is what was marked there, in one size, and its light and folds are the photograph's",
            [Cloth.Woven ? "weave" : "knit"] = new JsonObject
            {
                [Cloth.Woven ? "endPitchMm" : "walePitchMm"] = Cloth.Across,
                [Cloth.Woven ? "pickPitchMm" : "coursePitchMm"] = Cloth.Down,
                ["thicknessMm"] = Cloth.ThicknessMm,
                ["scatteringPerUm"] = Cloth.ScatteringPerUm,
            },
            ["sizes"] = new JsonArray(
                new JsonObject
                {
                    ["size"] = Size,
                    ["chestMm"] = Math.Round(ChestMm ?? size.ChestMm),
                    ["lengthMm"] = Math.Round(LengthMm ?? size.LengthMm),
                }
            ),
            ["colours"] = new JsonArray(
                new JsonObject
                {
                    ["id"] = Key(ColourName),
                    ["name"] = ColourName,
                    ["cloth"] = "lab",
                    ["lab"] = new JsonArray(Tenth(ground.L), Tenth(ground.A), Tenth(ground.B)),
                    ["fibres"] = new JsonObject(
                        Fibres.Select(f =>
                            KeyValuePair.Create(f.Fibre.ToString().ToLowerInvariant(), (JsonNode?)f.Share)
                        )
                    ),
                    ["class"] = Lab is null ? "photographed" : "B",
                    ["source"] = Lab is null
                        ? "read off the photograph outside folds; camera and light were not measured, spectrum assumed smooth"
                        : "Lab typed by the shop in place of the photograph's, spectrum assumed smooth",
                }
            ),
            ["views"] = new JsonArray(
                new JsonObject
                {
                    ["side"] = Side.ToString().ToLowerInvariant(),
                    ["pieces"] = new JsonArray(
                        new JsonObject
                        {
                            ["name"] = "marked area",
                            ["kind"] = "cloth",
                            ["puffMm"] = 0,
                            ["outline"] = Outline(outline),
                        }
                    ),
                    ["seams"] = new JsonArray(),
                    ["folds"] = new JsonArray(),
                    ["photograph"] = Of(Photograph),
                }
            ),
            ["places"] = new JsonArray([.. Places()]),
        };
        return Encoding.UTF8.GetBytes(json.ToJsonString(Indented) + "\n");
    }

    internal static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, IndentSize = 1 };

    /// <summary>"Sky blue" is "sky-blue".</summary>
    public static string Key(string name)
    {
        var key = new StringBuilder();
        foreach (var letter in name.ToLowerInvariant())
            if (letter is (>= 'a' and <= 'z') or (>= '0' and <= '9'))
                key.Append(letter);
            else if (key.Length > 0 && key[^1] != '-')
                key.Append('-');
        return key.ToString().Trim('-') is { Length: > 0 } said ? said : "as-photographed";
    }

    private IEnumerable<JsonNode> Places()
    {
        var places = Side == GarmentSide.Front ? new[] { "front", "left-chest", "right-chest" } : ["back", "nape"];
        foreach (var place in places)
        {
            var whole = place is "front" or "back";
            yield return new JsonObject
            {
                ["place"] = place,
                ["side"] = Side.ToString().ToLowerInvariant(),
                ["seam"] = "0, 0",
                ["degrees"] = 0,
                ["up"] = false,
                ["area"] = new JsonObject
                {
                    ["width"] = whole ? "0.82 chest" : "0.25 chest",
                    ["height"] = whole ? "0.78 length" : "0.25 chest",
                },
            };
        }
    }

    private static JsonObject Of(GarmentPhotograph photograph)
    {
        var marks = photograph.Marks;
        var json = new JsonObject
        {
            ["file"] = photograph.FileName,
            ["sha256"] = photograph.Sha256,
            ["width"] = photograph.Width,
            ["height"] = photograph.Height,
            ["tape"] = Tape(marks.Tape),
            ["seam"] = Point(marks.Seam),
            ["down"] = Point(marks.Down),
            ["area"] = new JsonArray([.. marks.Area.Select(Point)]),
        };
        if (marks.Check is { } check)
            json["check"] = Tape(check);
        if (marks.Tolerance is { } tolerance)
            json["tolerance"] = tolerance;
        return json;
    }

    private static JsonObject Tape(PhotoTape tape) =>
        new()
        {
            ["from"] = Point(tape.From),
            ["to"] = Point(tape.To),
            ["mm"] = tape.Mm,
        };

    private static JsonNode Point(PhotoPoint p) => new JsonArray(Tenth(p.X), Tenth(p.Y));

    private static JsonArray Outline((double X, double Y)[] mm) =>
        [
            .. mm.Select(
                    (p, i) =>
                        (JsonNode)
                            JsonValue.Create(
                                string.Create(
                                    CultureInfo.InvariantCulture,
                                    $"{(i == 0 ? 'M' : 'L')} {p.X:0.0}, {p.Y:0.0}"
                                )
                            )
                )
                .Append(JsonValue.Create("Z")),
        ];

    private static JsonValue Tenth(double value) => JsonValue.Create(Math.Round(value, 1));
}
