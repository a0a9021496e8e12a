using System.Text.Json;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>The table of screens as JSON: stable order, invariant numbers.</summary>
public static class ScreensJson
{
    public static string Write(ScreensTable table) =>
        IndentedJson.Write(json =>
        {
            json.WriteStartObject();
            if (table.Chosen is { } chosen)
                json.WriteNumber("chosen", chosen);
            json.WriteNumber("heads", table.Heads);
            json.WriteNumber("quantity", table.Quantity);
            Rates(json, table.Rates);
            json.WriteStartArray("rows");
            foreach (var row in table.Rows)
                Row(json, row);
            json.WriteEndArray();
            json.WriteEndObject();
        }) + "\n";

    private static void Rates(Utf8JsonWriter json, ScreenRates rates)
    {
        json.WriteStartObject("rates");
        json.WriteString("name", rates.Name);
        json.WriteNumber("makeMinutes", rates.MakeMinutes);
        json.WriteNumber("setUpMinutes", rates.SetUpMinutes);
        json.WriteNumber("tearDownMinutes", rates.TearDownMinutes);
        if (rates.HourRate is { } hour)
            json.WriteNumber("hourRate", hour);
        if (rates.InkRatePerKg is { } ink)
            json.WriteNumber("inkRatePerKg", ink);
        json.WriteEndObject();
    }

    private static void Row(Utf8JsonWriter json, ScreensRow row)
    {
        json.WriteStartObject();
        json.WriteNumber("colours", row.Colours);
        json.WriteNumber("screens", row.Screens);
        json.WriteBoolean("fitsPress", row.FitsPress);
        json.WriteNumber("minutes", Math.Round(row.Minutes, 1));
        json.WriteNumber("gramsToMix", row.GramsToMix);
        if (row.CostPerPrint is { } cost)
            json.WriteNumber("costPerPrint", Math.Round(cost, 2));
        json.WriteStartArray("inks");
        foreach (var ink in row.Inks)
            json.WriteStringValue(ink.Id);
        json.WriteEndArray();
        json.WriteStartArray("grounds");
        foreach (var on in row.Grounds)
        {
            json.WriteStartObject();
            json.WriteString("ground", on.Ground.Id);
            json.WriteNumber("meanFromArtDeltaE00", Math.Round(on.Fit.MeanFromArt, 2));
            json.WriteNumber("meanDeltaE00", Math.Round(on.Fit.MeanDeltaE, 2));
            json.WriteNumber("ninetyFifthDeltaE00", Math.Round(on.Fit.NinetyFifthDeltaE, 2));
            json.WriteNumber("outOfReachPercent", Math.Round(100 * on.Fit.OutOfReachShare, 2));
            json.WriteNumber("meanMoveDeltaE00", Math.Round(on.Fit.MeanMove, 2));
            json.WriteNumber("mostMoveDeltaE00", Math.Round(on.Fit.MostMove, 2));
            json.WriteNumber("heads", on.Heads);
            json.WriteBoolean("fits", on.Fits);
            json.WriteNumber("gramsPerPrint", Math.Round(on.GramsPerPrint, 2));
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }
}
