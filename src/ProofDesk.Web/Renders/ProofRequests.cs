using System.Collections.Immutable;
using System.Text;
using ProofDesk.Adapters.Renders;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Layers;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Start;
using ProofDesk.Web.Wardrobe;

namespace ProofDesk.Web.Renders;

/// <summary>Turns a print of a stored order into what the proof maker asks for. The same order gives the same request.</summary>
public sealed class ProofRequests(
    Artworks artworks,
    Garments garments,
    ShopGarments shopGarments,
    ShopInks shopInks,
    ShopPresses presses,
    ShopDevices devices
)
{
    public async Task<ProofRequest> OfAsync(ProofOrder order, ProofOrderPrint print, CancellationToken cancel)
    {
        var art = await artworks.ReadAsync(print.ArtSha256, print.WidthMm, print.Options?.PdfPage, cancel);
        return new ProofRequest(
            art,
            new Placement(print.Place, print.FromSeamMm, print.FromCentreMm, print.WidthMm),
            PrintMethods.Find(print.Method)
                ?? throw new InvalidDataException($"no print method is called {print.Method}"),
            await GroundsAsync(order, cancel)
        )
        {
            Background = print.Background switch
            {
                "drop" => BackgroundChoice.Drop,
                "print" => BackgroundChoice.Print,
                _ => BackgroundChoice.AsGiven,
            },
            Spot = new SpotSettings
            {
                Inks = (await InksOfAsync(print.Inks, cancel)) with { Rules = await RulesOfAsync(print, cancel) },
                Base = print.Base switch
                {
                    "white" => BaseChoice.White,
                    "discharge" => BaseChoice.Discharge,
                    "none" => BaseChoice.None,
                    _ => BaseChoice.Auto,
                },
                BlockingBase = print.BlockingBase,
                FlatAreas = print.Options?.FlatAreas == PrintOptions.Toned ? FlatAreas.Toned : FlatAreas.Solid,
                Layers = print.Options?.Layers == PrintOptions.Flatten ? LayerChoice.Flatten : LayerChoice.Keep,
                Press = await PressOfAsync(print.Press, cancel),
            },
            HandWork = print.Options?.HandWork ?? HandWork.None,
            Roster = RosterOf(print.Options?.Roster),
            Device = await DeviceOfAsync(print.Options?.Device, order.FilmDpi, cancel),
            Layout = print.Options?.Layout ?? ScreenLayout.One,
            GarmentPixelsPerMm = order.GarmentPixelsPerMm,
            Seed = order.Seed,
            Quantity = Math.Max(1, order.Pieces),
            SizeGroup = print.SizeGroup,
            Sizes = [.. order.Lines.SelectMany(l => l.Counts).Where(c => c.Count > 0).Select(c => c.Size).Distinct()],
            WithRange = true,
            HeadByHead = true,
        };
    }

    private static Roster? RosterOf(string? list)
    {
        if (list is null)
            return null;
        var reading = RosterFile.Read(Encoding.UTF8.GetBytes(list), BoundFiles.RosterName);
        return reading.Roster ?? throw new ProofRefused(reading.Findings);
    }

    private async Task<OutputDevice> DeviceOfAsync(string? device, int fallbackDpi, CancellationToken cancel) =>
        device is null
            ? OutputDevice.Fallback with
            {
                XDpi = fallbackDpi,
                YDpi = fallbackDpi,
            }
            : (await devices.FindAsync(device, cancel))?.Record.Device()
                ?? throw new InvalidDataException($"no output device is called {device}");

    private async Task<PressSettings> PressOfAsync(string press, CancellationToken cancel) =>
        press.Length == 0
            ? PressSettings.Automatic
            : (await presses.FindAsync(press, cancel))?.Definition.Fitted.Press
                ?? throw new InvalidDataException($"no press is called {press}");

    private async Task<InkChoice> InksOfAsync(string inks, CancellationToken cancel)
    {
        if (inks is "" or "auto")
            return InkChoice.Automatic;
        if (int.TryParse(inks, out var count))
            return InkChoice.Exactly(count);
        var chosen = ImmutableArray.CreateBuilder<Ink>();
        foreach (var id in inks.Split(','))
            chosen.Add(InkLibrary.Find(id) ?? await OwnAsync(id, cancel));
        return InkChoice.Of(chosen);
    }

    /// <summary>Null for methods that print in their own inks: their form shows no rules, and those of another method stay behind.</summary>
    private async Task<InkRules?> RulesOfAsync(ProofOrderPrint print, CancellationToken cancel)
    {
        if (
            print.Options?.InkRules is not { } rules
            || PrintMethods.Find(print.Method) is not { InkFreedom: InkFreedom.Chosen }
        )
            return null;
        var must = ImmutableArray.CreateBuilder<Ink>();
        foreach (var id in rules.Must)
            must.Add(InkLibrary.Find(id) ?? await OwnAsync(id, cancel));
        return new(must.ToImmutable(), rules.Never, rules.Order);
    }

    private async Task<Ink> OwnAsync(string id, CancellationToken cancel)
    {
        var own = await shopInks.FindAsync(id, cancel) ?? throw new InvalidDataException($"no ink is called {id}");
        var reading = shopInks.Make(own);
        return reading.Ink
            ?? throw new ProofRefused([
                new Finding(
                    "ink-unusable",
                    FindingWeight.Refusal,
                    $"the ink {own.Definition.Name}, version {own.Row.Version}, cannot be used: {string.Join("; ", reading.Problems)}",
                    "write a new version of it on the page Inks, or choose another ink"
                ),
            ]);
    }

    private async Task<ImmutableArray<Ground>> GroundsAsync(ProofOrder order, CancellationToken cancel)
    {
        var named = order
            .Lines.Select(l =>
                garments.Find(l.GarmentId, l.ColourId)
                ?? throw new InvalidDataException($"no garment {l.GarmentId} in {l.ColourId} is kept here")
            )
            .DistinctBy(g => g.Id)
            .ToArray();
        var grounds = ImmutableArray.CreateBuilder<Ground>();
        var read = new Dictionary<string, Garment>(StringComparer.Ordinal);
        foreach (var ground in named)
        {
            var sha256 = ground.Garment.Sha256;
            if (!read.TryGetValue(sha256, out var garment))
                read[sha256] = garment = await shopGarments.WithPhotographsAsync(ground.Garment, cancel);
            grounds.Add(ground with { Garment = garment });
        }
        return grounds.ToImmutable();
    }
}
