namespace ProofDesk.Web.LightTable;

/// <summary>
/// Curve and wedge of one film, drawn on the same eleven columns as the fields below them: 110 wide, ten for each step.
/// wedge.js draws the same while somebody types.
/// </summary>
internal static class WedgeDrawing
{
    public const string ViewBox = "0 0 110 53";
    private const double Full = 3;
    private const double Blank = 41;

    public static double X(int step) => 5 + 10 * step;

    public static double Y(double percent) => Blank - (Blank - Full) * percent / 100;

    public static string Points(IReadOnlyList<double> percent) =>
        string.Join(' ', percent.Select((value, i) => FormattableString.Invariant($"{X(i):0.##},{Y(value):0.##}")));
}
