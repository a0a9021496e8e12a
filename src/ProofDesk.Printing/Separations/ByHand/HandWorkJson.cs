using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// Hand work as one text: only what is changed, always in the same order. <see cref="HandWorkText"/> reads it.
/// </summary>
public static class HandWorkJson
{
    public static string Write(HandWork work) => IndentedJson.Write(json => Write(json, work)) + "\n";

    internal static void Write(Utf8JsonWriter json, HandWork work)
    {
        json.WriteStartObject();
        json.WriteStartArray("plates");
        foreach (var edit in work.Plates.Where(p => !p.IsUnchanged))
            Edit(json, edit);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Edit(Utf8JsonWriter json, PlateEdit edit)
    {
        json.WriteStartObject();
        json.WriteString("plate", edit.Plate);
        if (!edit.ChangedWedge.IsEmpty)
        {
            json.WriteStartArray("wedgePercent");
            foreach (var step in edit.Wedge)
                json.WriteNumberValue(Round(100 * step));
            json.WriteEndArray();
        }
        if (edit.SpreadUm != 0)
            json.WriteNumber("spreadUm", Round(edit.SpreadUm));
        if (edit.AngleDegrees is { } angle)
            json.WriteNumber("angleDegrees", Round(angle));
        if (edit.LinesPerInch is { } lpi)
            json.WriteNumber("linesPerInch", Round(lpi));
        if (edit.Dot is { } dot)
            json.WriteString("dot", Word(dot));
        if (edit.Mesh is { } mesh)
            json.WriteString("mesh", mesh);
        if (edit.WeakTones is { } weak)
            json.WriteString("weakTones", Word(weak));
        if (edit.Strokes is { } strokes)
            json.WriteNumber("strokes", strokes);
        if (edit.FlashAfter is { } flash)
            json.WriteBoolean("flashAfter", flash);
        if (!edit.KeepOut.IsDefaultOrEmpty)
        {
            json.WriteStartArray("keepOut");
            foreach (var box in edit.KeepOut)
            {
                json.WriteStartObject();
                json.WriteNumber("xMm", Round(box.XMm));
                json.WriteNumber("yMm", Round(box.YMm));
                json.WriteNumber("widthMm", Round(box.WidthMm));
                json.WriteNumber("heightMm", Round(box.HeightMm));
                json.WriteEndObject();
            }
            json.WriteEndArray();
        }
        json.WriteEndObject();
    }

    /// <summary>A dot shape or a way with weak tones as the file names it.</summary>
    public static string Word<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();

    // Decimal writes no exponent; a number no film can have is for the checks to name, not for the writer.
    private static decimal Round(double value) =>
        Math.Abs(value) < 1e9 ? Math.Round((decimal)value, 3, MidpointRounding.AwayFromZero) + 0m : 999_999_999m;
}

/// <summary>The same text inside another one, such as the options an order keeps.</summary>
public sealed class HandWorkConverter : JsonConverter<HandWork>
{
    public override HandWork Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        using var part = JsonDocument.ParseValue(ref reader);
        var (work, problems) = HandWorkText.Read(part.RootElement.GetRawText(), "hand work");
        return problems.IsEmpty ? work : throw new JsonException(string.Join("; ", problems));
    }

    public override void Write(Utf8JsonWriter writer, HandWork value, JsonSerializerOptions options) =>
        HandWorkJson.Write(writer, value);
}
