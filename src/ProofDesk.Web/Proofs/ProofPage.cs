using System.Collections.Immutable;
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
    Decision? Decision,
    string? AskedEnd,
    int? AskedHead
)
{
    /// <summary>The ends of the range in their order, as addresses name them.</summary>
    public static ImmutableArray<string> Ends { get; } = ["light", "expected", "heavy"];

    public const double LoupeMm = 6;

    /// <summary>Whether inks are chosen by count here, so that there is a table of counts.</summary>
    public bool HasScreens =>
        Read.Order.Prints.FirstOrDefault(p => p.Key == Print.Key) is { } asked
        && PrintMethods.Find(asked.Method) is { } method
        && ScreensTables.Has(method);

    public string Here =>
        $"/versions/{Read.Version.Id}?print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}";

    /// <summary>The end of the range that is shown large.</summary>
    public string End => AskedEnd is { } end && Ends.Contains(end) ? end : "expected";

    /// <summary>The step of the run that is shown large, from 1; the finished print when nothing was asked.</summary>
    public int Head => Math.Clamp(AskedHead ?? Ground.Heads.Length, 1, Math.Max(1, Ground.Heads.Length));

    public string PathOf(string end) =>
        end switch
        {
            "light" => Ground.LightPath,
            "heavy" => Ground.HeavyPath,
            _ => Ground.PrintPath,
        };

    public static string WordsOf(string end) =>
        end switch
        {
            "light" => "Light end: as little ink as this press lays, screens at one edge of their register",
            "heavy" => "Heavy end: as much ink as this press lays, screens at the other edge of their register",
            _ => "Expected",
        };

    /// <summary>Findings that have a place, marked A, B, C in the order of the list; none where the art covers a whole side.</summary>
    public IReadOnlyList<PlacedFinding> Placed =>
        Print.Place.StartsWith("all over", StringComparison.Ordinal)
            ? []
            :
            [
                .. Print
                    .Findings.Select((f, i) => (Finding: f, Index: i))
                    .Where(f => f.Finding.Spot is not null)
                    .Take(26)
                    .Select(
                        (f, n) =>
                            new PlacedFinding(
                                ((char)('A' + n)).ToString(),
                                f.Index,
                                f.Finding,
                                f.Finding.Spot!,
                                SpotView.Of(f.Finding.Spot!, Print.WidthMm, Print.HeightMm)
                            )
                    ),
            ];

    /// <summary>The art on this cloth, whole or around the place of a finding.</summary>
    public string ArtUrl(int? finding = null) =>
        $"/versions/{Read.Version.Id}/art.png?print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}"
        + (finding is { } index ? $"&finding={index}" : "");

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
        Decision? decision,
        string? end = null,
        int? head = null
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
            decision,
            end,
            head
        );
    }
}
