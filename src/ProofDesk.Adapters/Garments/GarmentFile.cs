using System.Collections.Immutable;
using System.Text.Json;
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
            var root = new Field(document.RootElement, "", []);
            var schema = root["schema"].Text();
            if (schema != Schema)
                throw new GarmentFormatException("schema", $"\"{schema}\" is not known, \"{Schema}\" is needed");
            var sizes = root["sizes"].AtLeastOne(Size);
            root["sizes"].NoneTwice(sizes.Select(z => z.Size));
            root = root with { Measures = MeasuresOf(root["sizes"]) };
            var colours = root["colours"].AtLeastOne(ColourFields.Colour);
            root["colours"].NoneTwice(colours.Select(c => c.Id));
            return new Garment(root["id"].Text(), root["name"].Text(), Cloth(root), sizes, colours, sha256)
            {
                Shape = ViewFields.Shape(root, sizes),
                File = [.. json],
            };
        }
    }

    private static Knit Cloth(Field root)
    {
        if (!root.Has("weave"))
        {
            var knit = root["knit"];
            return new(
                knit["walePitchMm"].Number(0.2, 3),
                knit["coursePitchMm"].Number(0.2, 3),
                Thickness(knit),
                Scattering(knit)
            );
        }
        if (root.Has("knit"))
            throw new GarmentFormatException("weave", "cloth is knit or woven; remove \"knit\" or \"weave\"");
        var weave = root["weave"];
        return new(
            weave["endPitchMm"].Number(0.2, 3),
            weave["pickPitchMm"].Number(0.2, 3),
            Thickness(weave),
            Scattering(weave)
        )
        {
            Woven = true,
        };

        static double Thickness(Field cloth) => cloth["thicknessMm"].Number(0.1, 5);
        static double Scattering(Field cloth) => cloth["scatteringPerUm"].Number(1e-4, 0.1);
    }

    /// <summary>A bag has no shoulder: only what every size has may be used in the drawing.</summary>
    private static ImmutableArray<string> MeasuresOf(Field sizes) =>
        [.. GradedText.Measures.Where(m => sizes.Items().All(s => s.Has($"{m}Mm")))];

    private static GarmentSize Size(Field f)
    {
        return new(
            f["size"].Text(),
            f["chestMm"].Number(100, 1500),
            f["lengthMm"].Number(100, 1500),
            Optional("shoulderMm", 50, 1500),
            Optional("sleeveMm", 0, 1000),
            Optional("collarMm", 50, 500),
            Optional("dropFrontMm", 0, 400),
            Optional("dropBackMm", 0, 400)
        );

        double Optional(string name, double least, double most) => f.Has(name) ? f[name].Number(least, most) : 0;
    }
}
