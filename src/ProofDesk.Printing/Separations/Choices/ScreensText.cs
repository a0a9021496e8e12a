using System.Globalization;
using System.Text;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>The table of screens as lines of text: one table a ground, numbers under each other.</summary>
public static class ScreensText
{
    public static string Write(ScreensTable table)
    {
        var text = new StringBuilder();
        for (var g = 0; g < table.Rows[0].Grounds.Length; g++)
        {
            Line(text, $"on {table.Rows[0].Grounds[g].Ground.Colour.Name.ToLowerInvariant()}");
            Line(
                text,
                $"{(table.Chosen is null ? "" : " ")} colours  screens  heads  off the art  within reach  95 %  out of reach  ink, g  minutes{(Costs(table) ? "  a print" : "")}  inks"
            );
            foreach (var row in table.Rows)
                Row(text, table, row, row.Grounds[g]);
        }
        if (table.Chosen is { } chosen)
            Line(text, $"> {chosen} colours are what the job takes as it is set; --inks N takes another row");
        if (table.Rows.Any(r => !r.FitsPress))
            Line(text, $"! more heads than the press has, {table.Heads}: flash and cool-down take heads too");
        Line(
            text,
            $"off the art: mean dE00 over all of the art, by the forward model; within reach and 95 %: over the art that the print can reach"
        );
        Line(text, $"ink: one print, theoretical volume; real use is 1.3 to 2 times it (common practice)");
        var rates = table.Rates;
        Line(
            text,
            $"minutes: {rates.MinutesPerScreen:0.#} a screen, once for the run ({rates.Name}: make {rates.MakeMinutes:0.#}, set up {rates.SetUpMinutes:0.#}, take down {rates.TearDownMinutes:0.#})"
        );
        if (Costs(table))
            Line(
                text,
                $"a print: screens and mixed ink shared by {table.Quantity} prints, {rates.HourRate:0.##} an hour and {rates.InkRatePerKg:0.##} a kilogram of ink"
            );
        return text.ToString();
    }

    private static void Row(StringBuilder text, ScreensTable table, ScreensRow row, ScreensOnGround on)
    {
        var mark =
            row.Colours == table.Chosen ? ">"
            : table.Chosen is null ? ""
            : " ";
        var fit = on.Fit;
        Line(
            text,
            $"{mark}{row.Colours, 8}  {row.Screens, 7}  {on.Heads, 4}{(on.Fits ? " " : "!")}  {fit.MeanFromArt, 11:0.00}  {fit.MeanDeltaE, 12:0.00}  {fit.NinetyFifthDeltaE, 4:0.0}  {100 * fit.OutOfReachShare, 10:0.0} %  {on.GramsPerPrint, 6:0.0}  {row.Minutes, 7:0}{(row.CostPerPrint is { } cost ? Text($"  {cost, 7:0.00}") : "")}  {string.Join(", ", row.Inks.Select(i => i.Id))}"
        );
    }

    private static bool Costs(ScreensTable table) => table.Rows[0].CostPerPrint is not null;

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private static void Line(StringBuilder text, FormattableString line) => text.Append(Text(line)).Append('\n');
}
