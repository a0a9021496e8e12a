using System.Collections.Immutable;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Proofs;

/// <summary>Findings as a JSON list, refusals first.</summary>
public static class FindingsJson
{
    public static string Write(ImmutableArray<Finding> findings)
    {
        return IndentedJson.Write(json =>
            {
                json.WriteStartArray();
                foreach (var finding in findings.OrderByDescending(f => f.Weight))
                {
                    json.WriteStartObject();
                    json.WriteString("code", finding.Code);
                    json.WriteString("weight", finding.Weight.ToString().ToLowerInvariant());
                    json.WriteString("message", finding.Message);
                    json.WriteString("nextStep", finding.NextStep);
                    Number(json, "measured", finding.Measured);
                    Number(json, "limit", finding.Limit);
                    json.WriteString("unit", finding.Unit);
                    if (finding.Spot is { } spot)
                    {
                        json.WriteStartObject("spot");
                        json.WriteNumber("xMm", spot.XMm);
                        json.WriteNumber("yMm", spot.YMm);
                        json.WriteNumber("widthMm", spot.WidthMm);
                        json.WriteNumber("heightMm", spot.HeightMm);
                        json.WriteEndObject();
                    }
                    json.WriteEndObject();
                }
                json.WriteEndArray();
            }) + "\n";
    }

    private static void Number(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number && double.IsFinite(number))
            json.WriteNumber(name, Math.Round(number, 3));
        else
            json.WriteNull(name);
    }
}
