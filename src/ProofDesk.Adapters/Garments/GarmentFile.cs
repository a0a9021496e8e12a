using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>Reads one garment.json (docs/garment-format.md) into a <see cref="Garment"/>.</summary>
internal static class GarmentFile
{
    public const string Schema = "proofdesk-garment/1";

    public static Garment Parse(byte[] json, string sha256)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(json);
        }
        catch (JsonException e)
        {
            throw new GarmentFormatException($"line {e.LineNumber + 1}", $"not JSON: {e.Message}");
        }
        using (document)
        {
            var root = new Field(document.RootElement, "");
            var schema = root["schema"].Text();
            if (schema != Schema)
                throw new GarmentFormatException("schema", $"\"{schema}\" is not known, \"{Schema}\" is needed");
            var knit = root["knit"];
            return new Garment(
                root["id"].Text(),
                root["name"].Text(),
                new Knit(
                    knit["walePitchMm"].Number(0.2, 3),
                    knit["coursePitchMm"].Number(0.2, 3),
                    knit["thicknessMm"].Number(0.1, 5),
                    knit["scatteringPerUm"].Number(1e-4, 0.1)
                ),
                [.. root["sizes"].Items().Select(Size)],
                [.. root["colours"].Items().Select(Colour)],
                sha256
            )
            {
                Shape = new GarmentShape(
                    [.. root["views"].Items().Select(View)],
                    [.. root["places"].Items().Select(Anchor)]
                ),
            };
        }
    }

    private static GarmentSize Size(Field f) =>
        new(
            f["size"].Text(),
            f["chestMm"].Number(100, 1500),
            f["lengthMm"].Number(100, 1500),
            f["shoulderMm"].Number(50, 1500),
            f["sleeveMm"].Number(0, 1000),
            f["collarMm"].Number(50, 500),
            f["dropFrontMm"].Number(0, 400),
            f["dropBackMm"].Number(0, 400)
        );

    private static GarmentColour Colour(Field f)
    {
        var fibres = f["fibres"].Members().Select(m => new FibreShare(Fibre(m), m.Number(0, 1))).ToImmutableArray();
        var sum = fibres.Sum(s => s.Share);
        if (Math.Abs(sum - 1) > 0.001)
            throw new GarmentFormatException(f["fibres"].Path, $"the shares add up to {sum:0.###}, 1 is needed");
        HeatherFleck? fleck = null;
        Spectrum reflectance;
        switch (f["cloth"].Text())
        {
            case "undyed":
                reflectance = ClothSpectra.UndyedCotton();
                break;
            case "lab":
                reflectance = ClothSpectra.FromLab(f["lab"].Lab());
                break;
            case "heather":
                fleck = new HeatherFleck(
                    ClothSpectra.FromLab(f["darkLab"].Lab()),
                    ClothSpectra.UndyedCotton(),
                    f["darkShare"].Number(0, 1)
                );
                reflectance = ClothSpectra.Heather(fleck.PaleFibre, fleck.DarkFibre, fleck.DarkShare);
                break;
            case var other:
                throw new GarmentFormatException(
                    f["cloth"].Path,
                    $"\"{other}\" is not known; one of undyed, lab, heather is needed"
                );
        }
        return new GarmentColour(
            f["id"].Text(),
            f["name"].Text(),
            reflectance,
            fibres,
            f.Has("brightenerPeak") ? f["brightenerPeak"].Number(0, 1) : 0,
            fleck,
            f["class"].OneOf<DataClass>(),
            f["source"].Text()
        )
        {
            Dyes = f.Has("dyes") ? DyeList.OnFibres([.. f["dyes"].Items().Select(Dye)], fibres, f["dyes"].Path) : [],
        };
    }

    private static DyeShare Dye(Field f)
    {
        var kind = DyeList.Kind(f["dye"].Text(), f["dye"].Path);
        return new(
            kind,
            f["strength"].Number(0.001, 1000),
            f.Has("residual") ? f["residual"].Number(0, 1) : kind.ResidualShare
        );
    }

    private static FibreKind Fibre(Field f) =>
        Enum.TryParse<FibreKind>(f.Name, ignoreCase: true, out var fibre)
            ? fibre
            : throw new GarmentFormatException(
                f.Path,
                $"\"{f.Name}\" is no fibre known here; {string.Join(", ", Enum.GetNames<FibreKind>()).ToLowerInvariant()} are"
            );

    private static GarmentView View(Field f) =>
        new(
            f["side"].OneOf<GarmentSide>(),
            [
                .. f["pieces"]
                    .Items()
                    .Select(p => new GarmentPiece(
                        p["name"].Text(),
                        p["kind"].OneOf<PieceKind>(),
                        p["puffMm"].Number(0, 200),
                        p["outline"].Path_()
                    )),
            ],
            [
                .. f["seams"]
                    .Items()
                    .Select(s => new GarmentSeam(s["name"].Text(), (int)s["stitches"].Number(0, 2), s["line"].Path_())),
            ],
            [
                .. f["folds"]
                    .Items()
                    .Select(s => new GarmentFold(
                        s["heightMm"].Number(0, 50),
                        s["widthMm"].Number(1, 200),
                        s["line"].Path_()
                    )),
            ]
        );

    private static PlaceAnchor Anchor(Field f) =>
        new(
            f["place"].OneOf<Place>(),
            f["side"].OneOf<GarmentSide>(),
            GradedText.Point(f["seam"].Text(), f["seam"].Path),
            f["degrees"].Number(-180, 180),
            f["up"].Flag()
        );

    /// <summary>A JSON value that knows its path, so that every complaint names its field.</summary>
    private readonly record struct Field(JsonElement Element, string Path)
    {
        public string Name => Path[(Path.LastIndexOf('.') + 1)..];

        public Field this[string name] =>
            Element.ValueKind == JsonValueKind.Object && Element.TryGetProperty(name, out var value)
                ? new Field(value, Path.Length == 0 ? name : $"{Path}.{name}")
                : throw new GarmentFormatException(Path.Length == 0 ? name : $"{Path}.{name}", "is missing");

        public bool Has(string name) => Element.TryGetProperty(name, out _);

        public IEnumerable<Field> Items()
        {
            if (Element.ValueKind != JsonValueKind.Array)
                throw new GarmentFormatException(Path, "a list is needed");
            var path = Path;
            return Element.EnumerateArray().Select((e, i) => new Field(e, $"{path}[{i}]"));
        }

        public IEnumerable<Field> Members()
        {
            if (Element.ValueKind != JsonValueKind.Object)
                throw new GarmentFormatException(Path, "an object is needed");
            var path = Path;
            return Element.EnumerateObject().Select(p => new Field(p.Value, $"{path}.{p.Name}"));
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

        public GradedPath Path_() => GradedText.Path([.. Items().Select(i => i.Text())], Path);
    }
}
