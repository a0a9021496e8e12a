using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Rates;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Api.Means;

public sealed record MethodList(IReadOnlyList<MethodAnswer> Methods);

/// <summary>A way of printing.</summary>
public sealed record MethodAnswer(
    [property: Description("How orders name it.")] [property: Example("\"plastisol\"")] string Id,
    string Name,
    string Summary,
    [property: Description("Suppliers' sheets and local rules go first.")] string Caution,
    [property: Description("Kind of its inks, as the list of inks has it.")] string InkKind,
    [property: Description("It covers whole sides of a garment and nothing else.")] bool AllOverOnly
);

public sealed record GarmentList(IReadOnlyList<GarmentAnswer> Garments);

/// <summary>A garment with its sizes, colours and places.</summary>
public sealed record GarmentAnswer(
    [property: Example("\"tee\"")] string Id,
    string Name,
    IReadOnlyList<SizeAnswer> Sizes,
    IReadOnlyList<ColourAnswer> Colours,
    IReadOnlyList<Place> Places
);

public sealed record SizeAnswer([property: Example("\"M\"")] string Size, double ChestMm, double LengthMm);

public sealed record ColourAnswer(
    [property: Example("\"black\"")] string Id,
    string Name,
    [property: Description("sRGB under daylight.")] [property: Example("\"#1d1d1f\"")] string Hex,
    [property: Description("A measured for this, B one measurement or the maker's Lab, C a default of the trade.")]
        string DataClass
);

public sealed record InkList(IReadOnlyList<InkAnswer> Inks);

/// <summary>An ink that orders may name.</summary>
public sealed record InkAnswer(
    [property: Description("How orders name it.")] [property: Example("\"red\"")] string Id,
    string Name,
    string Kind,
    [property: Description("One pass on white cloth, sRGB; null while the shop's numbers make no ink.")]
        string? OnWhiteHex,
    [property: Description("One pass on black cloth, sRGB.")] string? OnBlackHex,
    string? DataClass,
    [property: Description("The version of the shop's own ink; null for one that comes with the program.")]
        int? OwnVersion
);

public sealed record PressList(IReadOnlyList<PressAnswer> Presses);

/// <summary>A press of the shop, as read from its test form.</summary>
public sealed record PressAnswer(
    [property: Description("How orders name it.")] [property: Example("\"own-shed-press\"")] string Id,
    string Name,
    int Version,
    DateTimeOffset WrittenAt,
    IReadOnlyList<string> Meshes,
    [property: Description("Its weakest number decides.")] string DataClass,
    IReadOnlyList<PressNumberAnswer> Numbers
);

public sealed record PressNumberAnswer(string Name, string Words, double Value, double Usual, string Unit);

/// <summary>The shop's rate card: what work and material cost it.</summary>
public sealed record RatesAnswer(
    [property: Description(
        "0 while the shop has written none: then common practice stands in, and its money is an example."
    )]
        int Version,
    [property: Description("ISO 4217; empty while the shop has not said.")] string Currency,
    IReadOnlyList<RateAnswer> Rates,
    IReadOnlyList<PriceBreakAnswer> GarmentBreaks
);

public sealed record RateAnswer(
    [property: Example("\"hourRate\"")] string Name,
    string Label,
    [property: Description("Empty for the shop's money.")] string Unit,
    double Value
);

public sealed record PriceBreakAnswer(int From, double Percent);

/// <summary>What the shop prints with and on.</summary>
[Tags("Means")]
[Route(V1)]
public sealed class MeansApi(Garments garments, ShopInks inks, ShopPresses presses, ShopRates rates, OfficeDb db)
    : ApiBase
{
    [HttpGet("methods")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Lists methods")]
    [ProducesResponseType<MethodList>(200, "application/json")]
    public IActionResult Methods() =>
        Tagged(
            new MethodList([
                .. PrintMethods.All.Select(m => new MethodAnswer(
                    m.Id,
                    m.Name,
                    m.Summary,
                    m.Caution,
                    InkDefinition.Word(m.ColourInk),
                    m.AllOver is { Always: true }
                )),
            ])
        );

    [HttpGet("garments")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Lists garments")]
    [ProducesResponseType<GarmentList>(200, "application/json")]
    public IActionResult ListGarments() =>
        Tagged(
            new GarmentList([
                .. garments.All.Select(g => new GarmentAnswer(
                    g.Id,
                    g.Name,
                    [.. g.Sizes.Select(s => new SizeAnswer(s.Size, s.ChestMm, s.LengthMm))],
                    [
                        .. g.Colours.Select(c => new ColourAnswer(
                            c.Id,
                            c.Name,
                            Hex.Of(c.Reflectance),
                            c.DataClass.ToString()
                        )),
                    ],
                    g.Shape is { } shape ? [.. shape.Places.Select(p => p.Place)] : Enum.GetValues<Place>()
                )),
            ])
        );

    [HttpGet("inks")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Lists inks")]
    [EndpointDescription("The inks that come with the program, and the shop's own that are in use.")]
    [ProducesResponseType<InkList>(200, "application/json")]
    public async Task<IActionResult> ListInks(CancellationToken cancel)
    {
        var own = await inks.ListAsync(cancel: cancel);
        return Tagged(
            new InkList([
                .. InkLibrary.Default.Select(ink => Of(ink.Id, InkCard.Of(ink), ink.Name, ink.Kind, null)),
                .. own.Select(ink =>
                    Of(
                        ink.OrderId,
                        inks.Make(ink).Ink is { } made ? InkCard.Of(made, ink) : null,
                        ink.Definition.Name,
                        ink.Definition.Kind,
                        ink.Row.Version
                    )
                ),
            ])
        );
    }

    [HttpGet("presses")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Lists presses")]
    [EndpointDescription(
        "The shop's own presses in use. An order that names none is printed on the usual automatic press."
    )]
    [ProducesResponseType<PressList>(200, "application/json")]
    public async Task<IActionResult> ListPresses(CancellationToken cancel) =>
        Tagged(
            new PressList([
                .. (await presses.ListAsync(cancel: cancel)).Select(p => new PressAnswer(
                    p.OrderId,
                    p.Definition.Name,
                    p.Row.Version,
                    p.Row.CreatedAt,
                    p.Definition.Meshes,
                    p.Definition.Fitted.Press.DataClass.ToString(),
                    [
                        .. p.Definition.Fitted.Numbers.Select(n => new PressNumberAnswer(
                            n.Name,
                            n.Words,
                            n.Value,
                            n.Usual,
                            n.Unit
                        )),
                    ]
                )),
            ])
        );

    [HttpGet("rates")]
    [Needs(Right.ReadHouse)]
    [EndpointSummary("Reads the rate card")]
    [ProducesResponseType<RatesAnswer>(200, "application/json")]
    public async Task<IActionResult> Rates(CancellationToken cancel)
    {
        var history = await rates.HistoryAsync(cancel);
        var (version, card) = history is [var newest, ..]
            ? (newest.Row.Version, newest.Card)
            : (0, RateCard.CommonPractice);
        return Tagged(
            new RatesAnswer(
                version,
                await db.CurrencyAsync(cancel),
                [.. RateField.All.Select(f => new RateAnswer(f.Name, f.Label, f.Unit, Math.Round(f.Of(card), 6)))],
                [.. card.GarmentBreaks.Select(b => new PriceBreakAnswer(b.From, Math.Round(100 * b.Share, 6)))]
            )
        );
    }

    private static InkAnswer Of(string id, InkCard? card, string name, InkKind kind, int? version) =>
        new(id, name, InkDefinition.Word(kind), card?.OnWhiteHex, card?.OnBlackHex, card?.DataClass, version);
}
