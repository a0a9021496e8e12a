using System.Globalization;
using System.Text;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>A file of hand work to begin with: every plate, what it was made with as a comment, nothing changed.</summary>
public static class HandWorkTemplate
{
    public static string Write(Separation separation, WeakTones weak)
    {
        var text = new StringBuilder();
        text.Append("{\n  // what is left out stays as it was made; docs/light-table.md says what each number does\n");
        text.Append("  \"plates\": [\n");
        foreach (var plate in separation.Plates.Where(p => !p.Mesh.IsNone))
        {
            var made = plate.Made ?? plate;
            var screen = made.Screen.IsStochastic
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $"\"linesPerInch\": {made.Screen.LinesPerInch:0.##}, \"dot\": \"stochastic\""
                )
                : string.Create(
                    CultureInfo.InvariantCulture,
                    $"\"linesPerInch\": {made.Screen.LinesPerInch:0.##}, \"angleDegrees\": {made.Screen.AngleDegrees:0.##}, \"dot\": \"{HandWorkJson.Word(made.Screen.Dot)}\""
                );
            text.Append(
                CultureInfo.InvariantCulture,
                $"    // {InkListMaker.PurposeName(made.Purpose)}: {screen}, \"mesh\": \"{made.Mesh.Label}\", \"weakTones\": \"{HandWorkJson.Word(weak)}\", \"strokes\": {made.Strokes}, \"flashAfter\": {(made.FlashAfter ? "true" : "false")}\n"
            );
            text.Append(
                $"    {{ \"plate\": \"{System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(made.Name)}\", \"wedgePercent\": [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100], \"spreadUm\": 0 }},\n"
            );
        }
        text.Append("  ]\n}\n");
        return text.ToString();
    }
}
