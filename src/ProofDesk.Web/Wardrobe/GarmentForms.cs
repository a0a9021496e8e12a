using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Adapters.Garments;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Web.Wardrobe;

/// <summary>Between the page and the garment file: fills the page from a file, and writes what it says into a copy of that file.</summary>
internal static class GarmentForms
{
    private const int SpareColours = 2;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, IndentSize = 1 };

    /// <param name="file">The garment file as it is kept.</param>
    public static GarmentForm Of(Garment garment, ReadOnlySpan<byte> file)
    {
        var root = JsonNode.Parse(file)!;
        var form = new GarmentForm
        {
            Name = garment.Name,
            Note = Text(root["note"]),
            AcrossMm = garment.Knit.WalePitchMm,
            DownMm = garment.Knit.CoursePitchMm,
            ThicknessMm = garment.Knit.ThicknessMm,
            ScatteringPerUm = garment.Knit.ScatteringPerUm,
            Sizes = [.. Items(root["sizes"]).Select(Size)],
            Colours = [.. Items(root["colours"]).Select((c, i) => Colour(c, garment.Colours[i]))],
            Places = [.. Items(root["places"]).Select(Place)],
        };
        foreach (var view in Items(root["views"]))
        {
            var side = Text(view["side"]) ?? "front";
            form.Seams.AddRange(
                Items(view["seams"])
                    .Select(s => new SeamRow
                    {
                        Side = side,
                        Name = Text(s["name"]),
                        Stitches = (int?)Number(s["stitches"]),
                        Line = Steps(s["line"]),
                    })
            );
            form.Obstacles.AddRange(
                Items(view["obstacles"])
                    .Select(o => new ObstacleRow
                    {
                        Side = side,
                        Name = Text(o["name"]),
                        Kind = Text(o["kind"]) ?? "seam",
                        Outline = Steps(o["outline"]),
                    })
            );
        }
        return form;
    }

    /// <summary>Empty rows to write new things into.</summary>
    public static void AddSpare(GarmentForm form, Garment based)
    {
        form.Sizes.Add(new());
        for (var i = 0; i < SpareColours; i++)
            form.Colours.Add(new());
        foreach (var view in based.Shape?.Views ?? [])
        {
            form.Seams.Add(new() { Side = Word(view.Side) });
            form.Obstacles.Add(new() { Side = Word(view.Side) });
        }
    }

    /// <summary>The next version of a garment file; null when something has to be mended first, each thing at its field.</summary>
    public static byte[]? Write(string id, GarmentForm form, ReadOnlySpan<byte> file, ModelStateDictionary state)
    {
        var root = JsonNode.Parse(file)!.AsObject();
        Check(form, state);
        CheckNames(form, root, state);
        if (!state.IsValid)
            return null;
        root["id"] = id;
        root["name"] = form.Name!.Trim();
        if (string.IsNullOrWhiteSpace(form.Note))
            root.Remove("note");
        else
            root["note"] = form.Note.Trim();
        var (cloth, across, down) = root.ContainsKey("weave")
            ? ("weave", "endPitchMm", "pickPitchMm")
            : ("knit", "walePitchMm", "coursePitchMm");
        root[cloth] = new JsonObject
        {
            [across] = form.AcrossMm,
            [down] = form.DownMm,
            ["thicknessMm"] = form.ThicknessMm,
            ["scatteringPerUm"] = form.ScatteringPerUm,
        };
        root["sizes"] = new JsonArray([.. form.Sizes.Where(s => Says(s.Size)).Select(Size)]);
        var before = Items(root["colours"]).ToDictionary(c => Text(c["id"]) ?? "", StringComparer.Ordinal);
        root["colours"] = new JsonArray([.. form.Colours.Where(c => Says(c.Name)).Select(c => Colour(c, before))]);
        foreach (var place in Items(root["places"]))
            if (form.Places.Find(p => p.Place == Text(place["place"])) is { } row)
                Write(place, row);
        foreach (var view in Items(root["views"]))
        {
            var side = Text(view["side"]);
            view["seams"] = new JsonArray([.. form.Seams.Where(s => s.Side == side && Says(s.Name)).Select(Seam)]);
            view["obstacles"] = new JsonArray([
                .. form.Obstacles.Where(o => o.Side == side && Says(o.Name)).Select(Obstacle),
            ]);
        }
        var written = Encoding.UTF8.GetBytes(root.ToJsonString(Indented) + "\n");
        try
        {
            GarmentCatalogue.Read(written);
            return written;
        }
        catch (GarmentFormatException problem)
        {
            state.AddModelError("", GarmentWords.Sentence(problem));
            return null;
        }
    }

    /// <summary>What can be said of every row at once; the rest is said by the reader of garment files.</summary>
    private static void Check(GarmentForm form, ModelStateDictionary state)
    {
        if (!Says(form.Name))
            state.AddModelError(nameof(form.Name), "Give the garment a name.");
        for (var i = 0; i < form.Sizes.Count; i++)
            if (Says(form.Sizes[i].Size) && (form.Sizes[i].ChestMm is null || form.Sizes[i].LengthMm is null))
                state.AddModelError(
                    $"Sizes[{i}].ChestMm",
                    $"Size {form.Sizes[i].Size}: half chest and length are needed, in mm."
                );
        for (var i = 0; i < form.Colours.Count; i++)
        {
            var colour = form.Colours[i];
            if (!Says(colour.Name))
                continue;
            var sum = (colour.Cotton ?? 0) + (colour.Polyester ?? 0) + (colour.Viscose ?? 0);
            if (Math.Abs(sum - 100) > 0.1)
                state.AddModelError(
                    $"Colours[{i}].Cotton",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{colour.Name}: the fibres add up to {sum:0.#} %, 100 % is needed."
                    )
                );
            if (colour.Cloth == "lab" && (colour.L is null || colour.A is null || colour.B is null))
                state.AddModelError(
                    $"Colours[{i}].L",
                    $"{colour.Name}: a dyed cloth needs L*, a* and b* (D50, 2 degrees)."
                );
            if (colour.Cloth == "heather" && !Says(colour.Id))
                state.AddModelError(
                    $"Colours[{i}].Cloth",
                    $"{colour.Name}: a heather is described by its two fibres in the garment file; make it from a garment that has it."
                );
            if (!Says(colour.Source))
                state.AddModelError($"Colours[{i}].Source", $"{colour.Name}: say where the colour comes from.");
            foreach (var word in Dyes(colour.Dyes).Where(d => d.Strength is null).Select(d => d.Dye))
                state.AddModelError(
                    $"Colours[{i}].Dyes",
                    $"{colour.Name}: \"{word}\" is no dye with its strength; write \"azo-reactive-red 1\"."
                );
        }
        for (var i = 0; i < form.Places.Count; i++)
            if (Says(form.Places[i].Width) != Says(form.Places[i].Height))
                state.AddModelError(
                    $"Places[{i}].Width",
                    $"{form.Places[i].Place.Replace('-', ' ')}: a print area has a width and a height, or neither."
                );
    }

    /// <summary>A row that was there goes with its name; a new one that says something needs a name, or what was typed were lost.</summary>
    private static void CheckNames(GarmentForm form, JsonObject root, ModelStateDictionary state)
    {
        var views = Items(root["views"]).ToList();
        Named(
            "Sizes",
            "Size",
            form.Sizes,
            Items(root["sizes"]).Count(),
            r => r.Size,
            r => r.Measures.Any(m => m.Value is not null)
        );
        Named(
            "Colours",
            "Name",
            form.Colours,
            Items(root["colours"]).Count(),
            r => r.Name,
            r => r.L is not null || r.A is not null || r.B is not null || Says(r.Source) || Says(r.Dyes)
        );
        Named("Seams", "Name", form.Seams, views.Sum(v => Items(v["seams"]).Count()), r => r.Name, r => Says(r.Line));
        Named(
            "Obstacles",
            "Name",
            form.Obstacles,
            views.Sum(v => Items(v["obstacles"]).Count()),
            r => r.Name,
            r => Says(r.Outline)
        );

        void Named<T>(string list, string name, List<T> rows, int had, Func<T, string?> nameOf, Func<T, bool> says)
        {
            for (var i = had; i < rows.Count; i++)
                if (!Says(nameOf(rows[i])) && says(rows[i]))
                    state.AddModelError(
                        $"{list}[{i}].{name}",
                        $"{list}, row {i + 1}: give it a name, or empty the row; a row without a name is left out."
                    );
        }
    }

    private static SizeRow Size(JsonNode size) =>
        new()
        {
            Size = Text(size["size"]),
            ChestMm = Number(size["chestMm"]),
            LengthMm = Number(size["lengthMm"]),
            ShoulderMm = Number(size["shoulderMm"]),
            SleeveMm = Number(size["sleeveMm"]),
            CollarMm = Number(size["collarMm"]),
            DropFrontMm = Number(size["dropFrontMm"]),
            DropBackMm = Number(size["dropBackMm"]),
        };

    private static JsonObject Size(SizeRow row)
    {
        var size = new JsonObject { ["size"] = row.Size!.Trim() };
        foreach (var (field, _, value) in row.Measures)
            if (value is { } mm)
                size[$"{char.ToLowerInvariant(field[0])}{field[1..]}"] = mm;
        return size;
    }

    private static ColourRow Colour(JsonNode colour, GarmentColour read)
    {
        var lab = Items(colour["lab"]).Select(Number).ToArray();
        var seen = GarmentWords.LabOf(read);
        return new()
        {
            Id = read.Id,
            Name = read.Name,
            Cloth = Text(colour["cloth"]) ?? "lab",
            L = lab.Length == 3 ? lab[0] : Math.Round(seen.L, 1),
            A = lab.Length == 3 ? lab[1] : Math.Round(seen.A, 1),
            B = lab.Length == 3 ? lab[2] : Math.Round(seen.B, 1),
            Cotton = Percent(read, FibreKind.Cotton),
            Polyester = Percent(read, FibreKind.Polyester),
            Viscose = Percent(read, FibreKind.Viscose),
            Class = GarmentWords.Class(read.DataClass),
            Source = read.Source,
            Dyes = string.Join(
                ", ",
                Items(colour["dyes"])
                    .Select(d =>
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{Text(d["dye"])} {Number(d["strength"])}{(Number(d["residual"]) is { } left ? $" {left}" : "")}"
                        )
                    )
            ),
        };
    }

    private static double? Percent(GarmentColour colour, FibreKind fibre) =>
        colour.Fibres.FirstOrDefault(f => f.Fibre == fibre) is { Share: > 0 } share
            ? Math.Round(100 * share.Share, 1)
            : null;

    private static JsonObject Colour(ColourRow row, Dictionary<string, JsonNode> before)
    {
        var colour =
            Says(row.Id) && before.TryGetValue(row.Id!, out var kept) ? kept.DeepClone().AsObject() : new JsonObject();
        colour["id"] = Says(row.Id) ? row.Id : PhotographedGarment.Key(row.Name!);
        colour["name"] = row.Name!.Trim();
        colour["cloth"] = row.Cloth;
        if (row.Cloth == "lab")
            colour["lab"] = new JsonArray(row.L, row.A, row.B);
        else
            colour.Remove("lab");
        var fibres = new JsonObject();
        foreach (
            var (name, percent) in new[]
            {
                ("cotton", row.Cotton),
                ("polyester", row.Polyester),
                ("viscose", row.Viscose),
            }
        )
            if (percent is > 0)
                fibres[name] = Math.Round(percent.Value / 100, 4);
        colour["fibres"] = fibres;
        colour["class"] = row.Class;
        colour["source"] = row.Source!.Trim();
        var dyes = new JsonArray([
            .. Dyes(row.Dyes)
                .Select(d =>
                {
                    var dye = new JsonObject { ["dye"] = d.Dye, ["strength"] = d.Strength };
                    if (d.Residual is { } left)
                        dye["residual"] = left;
                    return dye;
                }),
        ]);
        if (dyes.Count > 0)
            colour["dyes"] = dyes;
        else
            colour.Remove("dyes");
        return colour;
    }

    private static IEnumerable<(string Dye, double? Strength, double? Residual)> Dyes(string? text)
    {
        foreach (
            var part in (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
        )
        {
            var words = part.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            double? Of(int i) =>
                words.Length > i
                && double.TryParse(
                    words[i],
                    NumberStyles.AllowDecimalPoint,
                    CultureInfo.InvariantCulture,
                    out var number
                )
                    ? number
                    : null;
            yield return words.Length is 2 or 3 && (words.Length == 2 || Of(2) is not null)
                ? (words[0], Of(1), Of(2))
                : (part, null, null);
        }
    }

    private static PlaceRow Place(JsonNode place) =>
        new()
        {
            Place = Text(place["place"]) ?? "",
            FromSeamMm = Number(place["usual"]?["fromSeamMm"]),
            FromCentreMm = Number(place["usual"]?["fromCentreMm"]),
            Width = Text(place["area"]?["width"]),
            Height = Text(place["area"]?["height"]),
        };

    private static void Write(JsonNode place, PlaceRow row)
    {
        var at = place.AsObject();
        if (row.FromSeamMm is { } seam)
            at["usual"] = new JsonObject { ["fromSeamMm"] = seam, ["fromCentreMm"] = row.FromCentreMm ?? 0 };
        else
            at.Remove("usual");
        if (Says(row.Width))
            at["area"] = new JsonObject { ["width"] = row.Width!.Trim(), ["height"] = row.Height!.Trim() };
        else
            at.Remove("area");
    }

    private static JsonObject Seam(SeamRow row) =>
        new()
        {
            ["name"] = row.Name!.Trim(),
            ["stitches"] = row.Stitches ?? 0,
            ["line"] = Steps(row.Line),
        };

    private static JsonObject Obstacle(ObstacleRow row) =>
        new()
        {
            ["name"] = row.Name!.Trim(),
            ["kind"] = row.Kind,
            ["outline"] = Steps(row.Outline),
        };

    private static JsonArray Steps(string? lines) =>
        new([
            .. (lines ?? "")
                .Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
                .Select(step => (JsonNode)JsonValue.Create(step)),
        ]);

    private static string Steps(JsonNode? path) => string.Join('\n', Items(path).Select(Text));

    private static IEnumerable<JsonNode> Items(JsonNode? list) => (list as JsonArray ?? []).OfType<JsonNode>();

    private static string? Text(JsonNode? node) =>
        node is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;

    private static double? Number(JsonNode? node) =>
        node is JsonValue value && value.TryGetValue<double>(out var number) ? number : null;

    private static bool Says(string? text) => !string.IsNullOrWhiteSpace(text);

    private static string Word(GarmentSide side) => side.ToString().ToLowerInvariant();
}
