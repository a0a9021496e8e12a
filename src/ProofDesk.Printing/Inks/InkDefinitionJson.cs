using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Inks;

/// <summary>A shop's ink as one JSON text with its measurement inside: what the desk keeps. <see cref="InkFileText"/> reads it too.</summary>
public static class InkDefinitionJson
{
    public static string Write(InkDefinition ink)
    {
        return IndentedJson.Write(json =>
        {
            json.WriteStartObject();
            json.WriteString("id", ink.Id);
            json.WriteString("name", ink.Name);
            json.WriteString("kind", InkDefinition.Word(ink.Kind));
            json.WriteString("role", ink.Role.ToString().ToLowerInvariant());
            if (ink.Measurement is { } measured)
            {
                json.WriteString("measurement", measured.FileName);
                json.WriteString("measurementText", measured.Text);
            }
            if (ink.Solid is { } solid)
            {
                Colour(json, solid.Lab);
                json.WriteString("light", solid.Light.ToString());
                json.WriteString("mesh", solid.Mesh);
            }
            if (ink.VolumeSolids is { } solids)
                json.WriteNumber("volumeSolids", solids);
            if (ink.DensityGramsPerCm3 is { } density)
                json.WriteNumber("densityGramsPerCm3", density);
            if (ink.Formula is { } formula)
                Formula(json, formula);
            if (ink.Target is { } target)
            {
                json.WriteStartObject("target");
                Colour(json, target.Lab);
                json.WriteNumber("tolerance", target.ToleranceDe00);
                json.WriteString("light", target.Light.ToString());
                json.WriteEndObject();
            }
            json.WriteEndObject();
        });
    }

    /// <summary>What <see cref="Write"/> wrote.</summary>
    /// <exception cref="InvalidDataException">It is not.</exception>
    public static InkDefinition Read(string json)
    {
        var (entries, problems) = InkFileText.Read(json, "ink", _ => null);
        return problems.IsEmpty && entries is [{ Definition: { } definition }]
            ? definition
            : throw new InvalidDataException($"not an ink: {string.Join("; ", problems)}");
    }

    private static void Formula(Utf8JsonWriter json, InkFormula formula)
    {
        json.WriteStartArray("formula");
        foreach (var part in formula.Parts)
        {
            json.WriteStartObject();
            json.WriteString("name", part.Name);
            json.WriteNumber("gramsPerKg", part.GramsPerKg);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Colour(Utf8JsonWriter json, Lab lab)
    {
        json.WriteStartArray("lab");
        json.WriteNumberValue(lab.L);
        json.WriteNumberValue(lab.A);
        json.WriteNumberValue(lab.B);
        json.WriteEndArray();
    }
}
