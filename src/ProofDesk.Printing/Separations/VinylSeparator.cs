using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Cutting;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Spot art becomes sheets: solids only, in the colours sheets come in, the largest at the bottom, lower ones running on
/// under upper ones so that no cloth shows when a layer is laid a little off.
/// </summary>
public static class VinylSeparator
{
    /// <summary>Findings of screen printing that say nothing about a sheet.</summary>
    private static readonly string[] OfScreens = ["thin-lines", "weak-tones", "too-few-heads", "white-is-grey"];

    /// <summary>No base and no halftone.</summary>
    public static SpotRules Rules { get; } =
        new()
        {
            HasBase = false,
            HasTones = false,
            ColourMesh = Mesh.None,
            BaseMesh = Mesh.None,
            BaseInk = InkLibrary.Find("sheet-white"),
        };

    public static PrintMethod Method { get; } =
        new(
            "vinyl",
            "Cut vinyl, pressed on",
            InkKind.Sheet,
            InkKind.Sheet,
            "opaque sheets cut to shape, one a colour: solid, sharp and even on any cloth, and a sheet one can feel",
            "heat presses and cutting knives hurt; temperature, time, pressure and the cloth a sheet holds on are the sheet supplier's: follow his sheet, press a test piece and wash it before the run"
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.None,
            Rules = Rules,
            Press = new VinylPress(),
            Work = new() { HeatPresses = 1, CutsSheets = true },
            Production = VinylFiles.Of,
            // No film: what was measured on the shop's film device is not the cutter's.
            Device = shop => shop.Replaced(shop.Name, shop.OwnXDpi, shop.OwnYDpi),
            Reversed = true,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        ImmutableArray<Finding> asked = [.. VinylChecks.Settings(settings)];
        var inks = settings.Inks.Inks.IsEmpty ? InkLibrary.OfKind(InkKind.Sheet) : settings.Inks.Inks;
        var overlapMm = (settings with { Press = method.Press.Settings(settings.Press) }).TrapMm;
        settings = settings with
        {
            Inks = new(settings.Inks.Count, inks, []),
            // Each colour in its own outline first: which one runs under which is decided by layers, not by lightness.
            Press = settings.Press with
            {
                SetUpSigmaMm = 0,
                PalletSigmaMm = 0,
                JitterSigmaMm = 0,
            },
            ColourMesh = Mesh.None,
            BaseMesh = Mesh.None,
            PrintFlashPrint = false,
            HighlightWhite = false,
        };
        var spot = SpotSeparator.Separate(art, method, grounds, settings);
        ImmutableArray<Finding> found =
        [
            .. asked,
            .. spot.Findings.Where(f => !OfScreens.Contains(f.Code)).Select(VinylChecks.ForSheets),
        ];
        if (spot.Plates.IsEmpty || found.Any(f => f.Weight == FindingWeight.Refusal))
            return spot with { Findings = found };
        var layers = VinylLayers.Of(spot, overlapMm);
        return spot with
        {
            Plates = layers.Plates,
            Grounds =
            [
                .. spot.Grounds.Select(plan =>
                    plan with
                    {
                        Runs = [.. layers.Order.Select((from, to) => Run(plan.Runs[from], to, layers))],
                    }
                ),
            ],
            Palette =
            [
                .. spot.Palette.Select(entry =>
                    entry.Plate is { } plate ? entry with { Plate = layers.Order.IndexOf(plate) } : entry
                ),
            ],
            SheetsStacked = layers.Thickest,
            Findings = [.. found, .. VinylChecks.Of(layers, spot.PixelsPerMm)],
        };
    }

    private static ScreenRun Run(ScreenRun run, int plate, VinylLayers layers) =>
        run with
        {
            Plate = plate,
            FlashAfter = false,
            Reason = run.Runs ? layers.Reasons[plate] : run.Reason,
        };
}
