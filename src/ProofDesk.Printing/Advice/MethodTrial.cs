using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Advice;

/// <summary>What a method does on one ground of a trial.</summary>
/// <param name="Heads">Null where no carousel prints.</param>
/// <param name="Hand">Null where nothing prints.</param>
public sealed record TrialGround(Ground Ground, PressPlan? Heads, HandFeel? Hand);

/// <summary>A method tried on art, cloth and settings as far as its plates: nothing is screened or drawn.</summary>
/// <param name="Findings">What separating said about this method, what is true of the art itself apart.</param>
/// <param name="OfArt">What is true of the art whatever the method.</param>
/// <param name="Costed">What of it costs; null where it is refused or prints nothing.</param>
public sealed record MethodTrial(
    PrintMethod Method,
    ImmutableArray<Finding> Findings,
    ImmutableArray<Finding> OfArt,
    ImmutableArray<TrialGround> Grounds,
    CostedPrint? Costed
)
{
    /// <summary>Colours of the art that can be told apart; 0 where the method does not count them.</summary>
    public int Colours { get; init; }

    public bool IsRefused => Findings.Any(f => f.Weight == FindingWeight.Refusal);

    /// <summary>Never throws for what art or settings make impossible: that is what it finds out.</summary>
    public static MethodTrial Of(ProofRequest request)
    {
        if (request.Method.AllOver is { Always: true } && !request.Placement.Place.IsAllOver())
            return Refused(request, [WholeSidesOnly(request)]);
        try
        {
            var (art, separation) = ProofMaker.MakePlates(request);
            return Of(request, art, separation);
        }
        catch (ProofRefused refused)
        {
            return Refused(request, refused.Findings);
        }
    }

    private static MethodTrial Of(ProofRequest request, SizedArt art, Separation separation)
    {
        ImmutableArray<Finding> own = [.. separation.Findings.Distinct().Where(f => !art.Findings.Contains(f))];
        if (separation.Plates.IsEmpty || own.Any(f => f.Weight == FindingWeight.Refusal))
            return new(request.Method, own, art.Findings, [], null);
        var costed = CostedPrint.Of(separation, request.Method, request.Spot.PressClass);
        ImmutableArray<FilmMeasure> areas =
        [
            .. separation.Plates.Select(p => new FilmMeasure(0, 1, CostedPrint.AreaCm2(p, separation.PixelsPerMm), "")),
        ];
        var equipment = PressEquipment.Of(request.Spot);
        return new(
            request.Method,
            own,
            art.Findings,
            [
                .. separation.Grounds.Select(plan => new TrialGround(
                    plan.Ground,
                    PressPlan.Of(separation, plan, equipment),
                    HandFeel.Of(separation, plan, areas, request.Press)
                )),
            ],
            costed
        )
        {
            Colours = separation.Palette.Length,
        };
    }

    private static MethodTrial Refused(ProofRequest request, ImmutableArray<Finding> why) =>
        new(request.Method, why, [], [], null);

    private static Finding WholeSidesOnly(ProofRequest request) =>
        new(
            "whole-sides-only",
            FindingWeight.Refusal,
            ArtChecks.Text(
                $"{request.Method.Id} covers whole sides of a garment, and this print is {request.Placement.WidthMm:0.#} mm wide at one place of it"
            ),
            "place the art all over the front or the back, or choose another method",
            request.Placement.WidthMm,
            null,
            "mm"
        );
}
