using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// What a comment hangs on, as the record names it: always in English, whatever language the client reads, because the shop
/// reads it.
/// </summary>
public static class ReviewThings
{
    public const string Order = "order";

    public static string Word(string word) => "word: " + word;

    public static string Roster(RosterLine line) => "roster: " + line.Words;

    public static string Width(PrintSummary print) => $"measure: {print.Name}, width";

    public static string Place(PrintSummary print) => $"measure: {print.Name}, place";

    public static string Ink(string ink) => "ink: " + ink;

    public static string Garment(string line) => "garment: " + line;

    public static string Size(string line, string size) => $"size: {size} of {line}";

    public static string Print(PrintSummary print) => "print: " + print.Name;

    /// <summary>A spot on a print, mm from the middle of its upper edge, as one sees the picture.</summary>
    public static string Spot(string print, double rightMm, double downMm) =>
        FormattableString.Invariant(
            $"spot: {print}, {(rightMm == 0 ? "on the centre line" : $"{Math.Abs(rightMm):0.#} mm {(rightMm > 0 ? "right" : "left")} of the centre line as pictured")}, {downMm:0.#} mm below the top"
        );
}
