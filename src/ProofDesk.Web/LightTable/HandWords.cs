using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Web.LightTable;

/// <summary>
/// What an order asks to be changed on a film, as its page says it before a film is made. Once it is made the film itself
/// says what was changed, and what it was made with.
/// </summary>
internal static class HandWords
{
    /// <summary>"choke 80 um, 45 lpi, wedge 0 8 17 26 36 46 56 67 78 89 100 %".</summary>
    public static string Of(PlateEdit edit) => string.Join(", ", Parts(edit));

    private static IEnumerable<string> Parts(PlateEdit edit)
    {
        if (edit.SpreadUm != 0)
            yield return FormattableString.Invariant(
                $"{(edit.SpreadUm < 0 ? "choke" : "spread")} {Math.Abs(edit.SpreadUm):0.##} um"
            );
        if (edit.Mesh is { } mesh)
            yield return $"mesh {mesh}";
        if (edit.LinesPerInch is { } lpi)
            yield return FormattableString.Invariant($"{lpi:0.##} lpi");
        if (edit.AngleDegrees is { } angle)
            yield return FormattableString.Invariant($"{angle:0.##} degrees");
        if (edit.Dot is { } dot)
            yield return $"{HandWorkJson.Word(dot)} dots";
        if (edit.WeakTones is { } weak)
            yield return $"weak tones {HandWorkJson.Word(weak)}";
        if (edit.Strokes is { } strokes)
            yield return strokes == 1 ? "1 stroke" : $"{strokes} strokes";
        if (edit.FlashAfter is { } flash)
            yield return flash ? "flashed after it" : "not flashed after it";
        if (!edit.KeepOut.IsDefaultOrEmpty)
            yield return "kept out of " + Layout.Words.Count(edit.KeepOut.Length, "rectangle", "rectangles");
        if (!edit.Wedge.IsDefaultOrEmpty && edit.Wedge.Where((w, i) => Math.Abs(w - i / 10.0) > 1e-6).Any())
            yield return $"wedge {string.Join(' ', edit.Wedge.Select(w => HandForms.Number(100 * w)))} %";
    }
}
