using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// The ink lists as CSV (RFC 4180, UTF-8, CRLF): one row for each running screen of each ground. Text that a
/// spreadsheet would run as a formula gets an apostrophe in front.
/// </summary>
public static class InkListCsv
{
    private const string Header =
        "ground,order,plate,purpose,ink,ink type,mesh,mesh threads per cm,mesh thread um,lpi,angle deg,dot shape,strokes,"
        + "flash after,coverage percent,area cm2,theoretical ink volume cm3 per m2,grams per 100 prints,grams to mix,"
        + "expected L*,expected a*,expected b*,light L*,light a*,light b*,heavy L*,heavy a*,heavy b*,range dE00,data class,caution,"
        + "target L*,target a*,target b*,target light,tolerance dE00,dE00 to target,within tolerance,can be reached,best dE00,best with,formula grams,"
        + "specular L*,specular a*,specular b*";

    public static string Write(ImmutableArray<InkList> lists)
    {
        var text = new StringBuilder(Header).Append("\r\n");
        foreach (var list in lists)
        foreach (var row in list.Rows)
            text.AppendJoin(',', Cells(list, row)).Append("\r\n");
        return text.ToString();
    }

    private static IEnumerable<string> Cells(InkList list, InkListRow row) =>
        [
            Text(list.Ground.Id),
            Whole(row.Order),
            Text(row.Plate),
            Text(row.Purpose),
            Text(row.Ink),
            Text(row.InkType),
            Text(row.Mesh),
            Number(row.MeshThreadsPerCm, 1),
            Number(row.MeshThreadUm, 1),
            row.LinesPerInch is { } lpi ? Number(lpi, 2) : "",
            row.AngleDegrees is { } angle ? Number(angle, 2) : "",
            Text(row.DotShape),
            Whole(row.Strokes),
            row.Flash ? "yes" : "no",
            Number(row.CoveragePercent, 3),
            Number(row.AreaCm2, 2),
            Number(row.TheoreticalInkVolumeCm3PerM2, 2),
            Number(row.GramsPer100Prints, 1),
            Number(row.GramsToMix, 0),
            Number(row.ExpectedLab.L, 2),
            Number(row.ExpectedLab.A, 2),
            Number(row.ExpectedLab.B, 2),
            Number(row.LightLab.L, 2),
            Number(row.LightLab.A, 2),
            Number(row.LightLab.B, 2),
            Number(row.HeavyLab.L, 2),
            Number(row.HeavyLab.A, 2),
            Number(row.HeavyLab.B, 2),
            Number(row.SpanDeltaE00, 1),
            Text(row.DataClass),
            Text(row.Caution),
            .. Target(row.Target),
            Text(string.Join("; ", row.Mix.Select(part => $"{part.Name} {Number(part.Grams, 1)}"))),
            row.SpecularLab is { } light ? Number(light.L, 2) : "",
            row.SpecularLab is { } green ? Number(green.A, 2) : "",
            row.SpecularLab is { } blue ? Number(blue.B, 2) : "",
        ];

    private static IEnumerable<string> Target(TargetMatch? match) =>
        match is null
            ? Enumerable.Repeat("", 10)
            :
            [
                Number(match.Target.Lab.L, 2),
                Number(match.Target.Lab.A, 2),
                Number(match.Target.Lab.B, 2),
                match.Target.Light.ToString(),
                Number(match.Target.ToleranceDe00, 2),
                Number(match.DeltaE, 2),
                match.IsWithin ? "yes" : "no",
                match.CanBeReached ? "yes" : "no",
                Number(match.Best.DeltaE, 2),
                Text(match.Best.Words),
            ];

    private static string Whole(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Number(double value, int decimals) =>
        Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("0.###", CultureInfo.InvariantCulture);

    internal static string Text(string text)
    {
        if (text.Length > 0 && "=+-@\t\r\n".Contains(text[0], StringComparison.Ordinal))
            text = "'" + text;
        return text.AsSpan().IndexOfAny(",\"\r\n") < 0
            ? text
            : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
