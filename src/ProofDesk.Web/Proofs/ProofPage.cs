using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <param name="X">Picked spot on the inked extent, mm.</param>
public sealed record ProofPage(
    ReadVersion Read,
    PrintSummary Print,
    GroundSummary Ground,
    double X,
    double Y,
    int NewestNumber,
    Decision? Decision
)
{
    public const double LoupeMm = 6;

    /// <summary>Whether inks are chosen by count here, so that there is a table of counts.</summary>
    public bool HasScreens =>
        Read.Order.Prints.FirstOrDefault(p => p.Key == Print.Key) is { } asked
        && PrintMethods.Find(asked.Method) is { } method
        && ScreensTables.Has(method);

    public string Here =>
        $"/versions/{Read.Version.Id}?print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}";

    public string LoupeUrl =>
        FormattableString.Invariant(
            $"/versions/{Read.Version.Id}/loupe.png?print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}&x={X:0.###}&y={Y:0.###}"
        );

    public static ProofPage Of(
        ReadVersion read,
        string? print,
        string? ground,
        double? x,
        double? y,
        int newest,
        Decision? decision
    )
    {
        var chosen = read.Summary.Prints.FirstOrDefault(p => p.Key == print) ?? read.Summary.Prints[0];
        var cloth = chosen.Grounds.FirstOrDefault(g => g.Id == ground) ?? chosen.Grounds[0];
        return new(
            read,
            chosen,
            cloth,
            Math.Clamp(x ?? chosen.WidthMm / 2, 0, chosen.WidthMm),
            Math.Clamp(y ?? chosen.HeightMm / 2, 0, chosen.HeightMm),
            newest,
            decision
        );
    }
}
