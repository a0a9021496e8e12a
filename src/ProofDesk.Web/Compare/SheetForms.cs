using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Comparisons;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Compare;

/// <summary>Between the form and the sheet: art from the order or of its own, the plan of cells, what they all share.</summary>
public sealed class SheetForms(
    OfficeDb db,
    OrderBook book,
    KeptArt kept,
    Artworks artworks,
    Garments garments,
    ShopPresses presses,
    ServerSettings settings
)
{
    /// <summary>Ticked when nobody has said anything: two ways through screens, one without.</summary>
    private static readonly string[] UsualMethods = ["plastisol", "water-based", "direct-to-garment"];

    /// <summary>The print of an order, or null when there is none.</summary>
    public async Task<(Order Order, OrderPrint Print)?> PrintAsync(Guid orderId, int print, CancellationToken cancel) =>
        await book.FindAsync(orderId, cancel) is { } order
        && order.Prints.OrderBy(p => p.Position).ElementAtOrDefault(print) is { } found
            ? (order, found)
            : null;

    public CompareForm Begin(Order order, OrderPrint print) =>
        new()
        {
            Title = order.Title.Length <= 180 ? $"{order.Title}, {print.Name}" : order.Title,
            Order = order.Id,
            Print = print.Position,
            Place = Enum.Parse<Place>(print.Place),
            WidthMm = print.WidthUm / 1000.0,
            Background = print.Background,
            Methods = [.. UsualMethods.Append(print.Method).Distinct()],
            Grounds = [.. order.Lines.OrderBy(l => l.Position).Select(l => $"{l.GarmentId}/{l.ColourId}").Distinct()],
            Quantity = Math.Clamp(order.Lines.Sum(l => l.Counts.Sum(c => c.Count)), 1, 100_000),
        };

    /// <summary>Of the garment most orders are for, the darkest and the palest colour without polyester, which asks for methods of its own.</summary>
    public CompareForm Begin()
    {
        var garment = garments.All[0];
        var colours = garment
            .Colours.Where(colour => colour.Fibres.All(share => share.Fibre != FibreKind.Polyester))
            .DefaultIfEmpty(garment.Colours[0])
            .ToArray();
        return new()
        {
            Methods = [.. UsualMethods],
            Grounds =
            [
                .. new[] { colours.MinBy(Lightness)!, colours.MaxBy(Lightness)! }
                    .Select(colour => new Ground(garment, colour).Id)
                    .Distinct(),
            ],
        };
    }

    /// <summary>The sheet the form describes; what cannot be so stands in <paramref name="state"/>.</summary>
    public async Task<CompareSheet?> MakeAsync(CompareForm form, ModelStateDictionary state, CancellationToken cancel)
    {
        var plan = Plan(form, state);
        var template = form.Order is { } orderId
            ? await OfOrderAsync(orderId, form, state, cancel)
            : await OfUploadAsync(form, state, cancel);
        if (!state.IsValid || plan is null || template is not { } from)
            return null;
        var (print, sizes) = from;
        var request = new SheetRequest(
            settings.ShopName,
            print,
            sizes,
            form.Quantity,
            Math.Min(settings.FilmDpi, SheetRequest.MostFilmDpi),
            Math.Min(
                settings.GarmentPixelsPerMm ?? SheetRequest.MostGarmentPixelsPerMm,
                SheetRequest.MostGarmentPixelsPerMm
            ),
            Seed: 1,
            await db.CurrencyAsync(cancel)
        );
        return new CompareSheet
        {
            Title = form.Title.Trim(),
            OrderId = form.Order,
            ArtSha256 = print.ArtSha256,
            ArtFileName = print.ArtFileName,
            ArtMediaType = print.ArtMediaType,
            RequestJson = request.ToJson(),
            Cells =
            [
                .. plan.Cells.Select(cell => new SheetCell
                {
                    Position = cell.Position,
                    Method = cell.Way.Method.Id,
                    Inks = cell.Way.Inks,
                    GarmentId = cell.Ground.Garment.Id,
                    ColourId = cell.Ground.Colour.Id,
                }),
            ],
        };
    }

    private ComparisonPlan? Plan(CompareForm form, ModelStateDictionary state)
    {
        var methods = form.Methods.Select(PrintMethods.Find).ToArray();
        var grounds = form.Grounds.Select(garments.Find).ToArray();
        if (methods.Contains(null))
            state.AddModelError(nameof(form.Methods), "Choose methods from the list.");
        if (grounds.Contains(null))
            state.AddModelError(nameof(form.Grounds), "Choose garment colours from the list.");
        if (!state.IsValid)
            return null;
        // In the order of the list, however they were ticked.
        var plan = ComparisonPlan.Of(
            PrintMethods.All.Where(methods.Contains),
            form.InkCounts,
            grounds.OfType<Ground>()
        );
        if (plan.Count <= ComparisonPlan.MostCells)
            return plan;
        state.AddModelError(
            nameof(form.Methods),
            $"{plan.Ways.Length} rows on {plan.Grounds.Length} garment colours are {plan.Count} proofs; a sheet has at most {ComparisonPlan.MostCells}. Untick some."
        );
        return null;
    }

    private async Task<(ProofOrderPrint Print, ImmutableArray<string> Sizes)?> OfOrderAsync(
        Guid orderId,
        CompareForm form,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        if (await PrintAsync(orderId, form.Print, cancel) is not { } found)
        {
            state.AddModelError(nameof(form.Order), "The order is not there any more. Begin again from its page.");
            return null;
        }
        var of = ProofOrderPrint.Of(found.Print);
        var print = of with
        {
            WidthMm = form.WidthMm,
            Base = "auto",
            Press = await presses.PinAsync(of.Press, cancel),
            // Hand work and rules about inks belong to one method's plates; the device is the sheet's own, coarser one.
            Options = (of.Options ?? PrintOptions.None) with
            {
                Device = null,
                Images = null,
                HandWork = null,
                InkRules = null,
            },
        };
        return (
            print,
            [
                .. found
                    .Order.Lines.SelectMany(line => line.Counts)
                    .Where(count => count.Count > 0)
                    .Select(count => count.Size)
                    .Distinct(),
            ]
        );
    }

    private async Task<(ProofOrderPrint Print, ImmutableArray<string> Sizes)?> OfUploadAsync(
        CompareForm form,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        var found = await kept.TakeAsync(form, state, cancel);
        // Nothing is read of a form that has to be mended anyway.
        if (found is null || !state.IsValid)
            return null;
        try
        {
            var art = await artworks.ReadAsync(found.Sha256, form.WidthMm, null, cancel);
            if (Artworks.IsOpaque(art) && string.IsNullOrEmpty(form.Background))
            {
                state.AddModelError(
                    nameof(form.Background),
                    "The art has no transparent parts: say what happens to its background."
                );
                return null;
            }
            var usual = Placement.Usual(form.Place, form.WidthMm);
            return (
                new ProofOrderPrint(
                    "front",
                    Layout.Words.Place(form.Place.ToString()),
                    found.Sha256,
                    found.FileName,
                    Artworks.MediaType(art),
                    form.Place,
                    form.WidthMm,
                    usual.FromSeamMm,
                    usual.FromCentreMm,
                    "",
                    form.Background ?? "",
                    "auto",
                    "auto",
                    "adult",
                    []
                ),
                [MiddleSize(form)]
            );
        }
        catch (UnreadableArt unreadable)
        {
            form.KeptArt = null;
            state.AddModelError(nameof(form.Art), $"{unreadable.What}; {unreadable.NextStep}.");
            return null;
        }
    }

    private string MiddleSize(CompareForm form)
    {
        var garment = form.Grounds.Select(garments.Find).OfType<Ground>().First().Garment;
        return garment.SizeOrMiddle("L").Size;
    }

    private static double Lightness(GarmentColour colour) =>
        Imaging.Colour.Tristimulus.Of(colour.Reflectance, Imaging.Colour.ViewingLight.D65).Y;
}
