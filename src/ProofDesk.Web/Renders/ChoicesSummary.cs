using System.Collections.Immutable;
using ProofDesk.Adapters.Renders;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Web.Renders;

/// <summary>What does one more screen buy? Counted for who asks; earlier versions brought it with them.</summary>
/// <param name="Chosen">The count this version has; null where it lists its inks.</param>
public sealed record ScreensSummary(
    int? Chosen,
    int Heads,
    string Rates,
    double MinutesPerScreen,
    ImmutableArray<ScreensRowSummary> Rows
)
{
    /// <summary>Counts them; ten seconds of work, so only for who asks.</summary>
    public static ScreensSummary Of(ProofRequest request, RateCard card)
    {
        var table = ScreensTables.Of(
            ArtSizing.Size(request.Art, request.Placement.WidthMm, request.Background),
            request.Method,
            request.Grounds,
            request.Spot,
            request.Quantity,
            card.Screens(request.Spot.PressClass)
        );
        return new(
            table.Chosen,
            table.Heads,
            table.Rates.Name,
            table.Rates.MinutesPerScreen,
            [
                .. table.Rows.Select(r => new ScreensRowSummary(
                    r.Colours,
                    r.Screens,
                    r.FitsPress,
                    r.Minutes,
                    r.GramsToMix,
                    [.. r.Inks.Select(i => i.Name)],
                    [
                        .. r.Grounds.Select(g => new ScreensGroundSummary(
                            g.Ground.Id,
                            g.Fit.MeanFromArt,
                            g.Fit.MeanDeltaE,
                            g.Fit.NinetyFifthDeltaE,
                            100 * g.Fit.OutOfReachShare,
                            g.Heads,
                            g.GramsPerPrint
                        )),
                    ]
                )),
            ]
        );
    }
}

public sealed record ScreensRowSummary(
    int Colours,
    int Screens,
    bool FitsPress,
    double Minutes,
    double GramsToMix,
    ImmutableArray<string> Inks,
    ImmutableArray<ScreensGroundSummary> Grounds
);

public sealed record ScreensGroundSummary(
    string Id,
    double MeanFromArt,
    double MeanDeltaE,
    double NinetyFifthDeltaE,
    double OutOfReachPercent,
    int Heads,
    double GramsPerPrint
);

/// <summary>Where the print cannot follow the art, and how near it comes elsewhere.</summary>
/// <param name="Path">The picture of it inside the version.</param>
public sealed record ReachSummary(
    string Path,
    double OutOfReachPercent,
    double MeanMove,
    double MostMove,
    double MeanDeltaE,
    double NinetyFifthDeltaE
)
{
    internal static ReachSummary? Of(Proof proof, GroundProof ground, GroundPaths paths)
    {
        var fit = proof.Separation.Fits.FirstOrDefault(f => f.Ground == ground.Ground);
        return fit is null || !proof.Separation.Reach.Any(r => r.Ground == ground.Ground)
            ? null
            : new(
                paths.Reach,
                100 * fit.OutOfReachShare,
                fit.MeanMove,
                fit.MostMove,
                fit.MeanDeltaE,
                fit.NinetyFifthDeltaE
            );
    }
}

/// <summary>What a second set of plates would do.</summary>
/// <param name="Serves">Garments it would serve, in words.</param>
public sealed record SecondSetSummary(
    string Serves,
    int Screens,
    bool Files,
    double Minutes,
    bool IsWorthIt,
    ImmutableArray<SetGainSummary> Gains
)
{
    /// <summary>Where the minutes come from; what versions said before there was a rate card.</summary>
    public string Rates { get; init; } = "common practice";

    public static SecondSetSummary? Of(Proof proof, RateCard card) =>
        proof.Separation.SecondSet is not { } set
            ? null
            : new(
                string.Join(" and ", set.Serves.Select(g => g.Colour.Name.ToLowerInvariant())),
                set.Screens,
                set.Files,
                set.Files ? 0 : set.Screens * card.Screens(proof.Request.Spot.PressClass).MinutesPerScreen,
                set.BestGain >= SecondSet.WorthSaying,
                [
                    .. set.Gains.Select(g => new SetGainSummary(
                        $"{g.Ground.Garment.Name}, {g.Ground.Colour.Name}",
                        g.OneSet,
                        g.TwoSets,
                        set.Serves.Contains(g.Ground)
                    )),
                ]
            )
            {
                Rates = card.MinutesName,
            };
}

public sealed record SetGainSummary(string Garment, double OneSet, double TwoSets, bool IsInSecond);
