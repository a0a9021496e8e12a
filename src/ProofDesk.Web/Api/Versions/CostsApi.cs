using System.Collections.Immutable;
using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;

namespace ProofDesk.Web.Api.Versions;

/// <summary>What runs of a version cost the shop, in its own money.</summary>
public sealed record CostAnswer(
    [property: Description("ISO 4217; empty while the shop has not said.")] string Currency,
    [property: Description("Which rate card was used.")] string Rates,
    IReadOnlyList<RunAnswer> Runs
);

/// <summary>A run of so many good pieces, shared by the garments of the version as the order counts them.</summary>
public sealed record RunAnswer(
    [property: Example("48")] int Pieces,
    double Total,
    double PerPiece,
    [property: Description("Screens, films and whatever else is done once.")] double SetUp,
    double Work,
    double Ink,
    double Garments,
    double Spoilage
);

/// <summary>Costs by quantity, from the shop's rate card and what the version binds.</summary>
[Tags("Versions")]
[Route(V1)]
public sealed class CostsApi(VersionReader versions, ShopRates rates, OfficeDb db) : ApiBase
{
    private const int MostRuns = 20;
    private const int MostPieces = 1_000_000;

    [HttpGet("versions/{id:guid}/costs")]
    [Needs(Right.ReadHouse)]
    [EndpointSummary("Costs a run")]
    [EndpointDescription(
        "What a run costs at each of the quantities, counted with the shop's rate card as it is today and the screens, passes and inks of the version. Garments are bought once, whatever is printed on them."
    )]
    [ProducesResponseType<CostAnswer>(200, "application/json")]
    public async Task<IActionResult> Show(
        Guid id,
        [FromQuery]
        [Description("Good pieces, 1 to 1,000,000, up to 20 quantities parted by commas: 24,48,144.")]
            string? pieces,
        CancellationToken cancel
    )
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var asked = (pieces ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (
            asked.Length is 0 or > MostRuns
            || Array.Exists(asked, text => !int.TryParse(text, out var n) || n is < 1 or > MostPieces)
        )
            return Mend([
                new(
                    "pieces-not-understood",
                    "/pieces",
                    "Say for how many pieces: 1 to 20 whole numbers from 1 to 1,000,000, parted by commas.",
                    pieces,
                    "1 to 1000000",
                    "Send pieces=24,48,144."
                ),
            ]);
        var history = await rates.HistoryAsync(cancel);
        var card = history is [var newest, ..] ? newest.Card : RateCard.CommonPractice;
        var currency = await db.CurrencyAsync(cancel);
        ImmutableArray<CostedPrint> prints = [.. read.Summary.Prints.Select(print => Costed(print, read.Order))];
        return Tagged(
            new CostAnswer(
                currency,
                history.Count > 0 ? $"version {history[0].Row.Version}" : card.Name,
                [.. asked.Select(text => Run(prints, card, int.Parse(text)))]
            )
        );
    }

    private static RunAnswer Run(ImmutableArray<CostedPrint> prints, RateCard card, int pieces)
    {
        RunCost[] runs = [.. prints.Select(print => RunCost.Of(print, card, pieces))];
        // The garments of the second print are those of the first.
        var garments = runs[0].Garments;
        var total = runs.Sum(r => r.Total - r.Garments) + garments;
        return new(
            pieces,
            Money(total),
            Money(total / pieces),
            Money(runs.Sum(r => r.SetUp)),
            Money(runs.Sum(r => r.Work)),
            Money(runs.Sum(r => r.Ink)),
            Money(garments),
            Money(runs.Sum(r => r.Spoilage))
        );
    }

    /// <summary>Screens, passes and inks as the version's summary binds them: what <see cref="CostedPrint.Of"/> counts in a proof.</summary>
    private static CostedPrint Costed(PrintSummary print, ProofOrder order)
    {
        var methodId = order.Prints.First(asked => asked.Key == print.Key).Method;
        var method =
            PrintMethods.Find(methodId) ?? throw new InvalidDataException($"no print method is called {methodId}");
        var onMesh = print.Plates.Where(p => p.Mesh != "none").Select(p => p.Screen).ToHashSet();
        var below = print.Plates.Where(p => UnderColours.Contains(p.Purpose)).Select(p => p.Screen).ToHashSet();
        return new(
            method.Id,
            method.Name,
            method.Work,
            PressClass.Automatic,
            onMesh.Count,
            [
                .. print.Grounds.Select(ground =>
                {
                    var runs = ground.Runs.Where(r => r.Runs).ToArray();
                    var cut = ground.Inks.Sum(i => i.AreaCm2);
                    return new CostedGround(
                        $"{ground.Garment}, {ground.Colour}",
                        runs.Count(r => onMesh.Contains(r.Screen)),
                        runs.SkipLast(1).Count(r => r.Flash),
                        Array.Exists(runs, r => below.Contains(r.Screen)),
                        ground.Inks.Sum(i => i.GramsPer100) / 100,
                        method.Work.CutsSheets ? cut : print.WidthMm * print.HeightMm / 100
                    )
                    {
                        Weight = Math.Max(
                            1,
                            order.Lines.Where(l => $"{l.GarmentId}/{l.ColourId}" == ground.Id).Sum(l => l.Pieces)
                        ),
                    };
                }),
            ]
        );
    }

    private static readonly HashSet<string> UnderColours =
    [
        .. Enum.GetValues<PlatePurpose>().Where(purpose => purpose.IsUnderColours).Select(InkListMaker.PurposeName),
    ];

    private static double Money(double amount) => Math.Round(amount, 4);
}
