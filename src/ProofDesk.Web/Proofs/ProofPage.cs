using ProofDesk.Adapters.Database;
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
