using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Plates of a transfer in the order they run on the carrier: what is seen first, the white backing last, so that it lies
/// under everything on the cloth. One transfer serves every ground, so all its plates run for all of them.
/// </summary>
public static class TransferSeparator
{
    /// <summary>A hand lays a transfer within so much ([PHYSICS] 3.5, common practice).</summary>
    private const double PlacedWithinMm = 5;

    public static PrintMethod Method { get; } =
        new(
            "plastisol-transfer",
            "Plastisol transfer",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "plastisol printed in reverse on a carrier and pressed on: smooth, opaque and even, and higher than a direct print",
            "heat presses burn, adhesive powder is dust and hot ink fumes; powder, temperature, time, pressure and peel are the suppliers': follow their sheets and local rules, press a test piece and wash it before the run"
        )
        {
            Separate = Separate,
            Press = TransferPress.OnCarrier,
            Work = new() { HeatPresses = 1 },
            Production = CarrierOrder.Of,
            Reversed = true,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var asked = settings;
        settings = settings with
        {
            Base = settings.Base == BaseChoice.Discharge ? BaseChoice.Discharge : BaseChoice.White,
            // The art's white is printed for itself first; the backing comes under it as under every colour.
            HighlightWhite = true,
            PrintFlashPrint = false,
            BaseMesh = settings.BaseMesh ?? Meshes.Find("32-100"),
            ColourMesh = settings.ColourMesh ?? Meshes.Find("48-70"),
            // A colour that any of the grounds needs is on the transfer, and so on all of them.
            IsAlikeOnAllGrounds = true,
        };
        var upright = method with { Press = TransferPress.FromTheCloth };
        var spot = SpotSeparator.Separate(art, upright, grounds, settings);
        if (spot.Plates.IsEmpty || spot.Findings.Any(f => f.Weight == FindingWeight.Refusal))
            return spot;
        var fromCloth = spot.Plates.Any(p => p.Purpose.IsBase) ? spot : WithBacking(spot, settings);
        var last = fromCloth.Plates.Length - 1;
        var hasHighlight = fromCloth.Plates[last].Purpose == PlatePurpose.HighlightWhite;
        return fromCloth with
        {
            Plates = [.. fromCloth.Plates.Reverse().Select(OnCarrier)],
            Grounds = [.. fromCloth.Grounds.Select(plan => plan with { Runs = Runs(fromCloth, last) })],
            Palette =
            [
                .. fromCloth.Palette.Select(entry =>
                    entry.Plate is not { } plate ? entry
                    : fromCloth.Plates[plate].Purpose == PlatePurpose.BaseAndWhite && hasHighlight
                        ? entry with
                        {
                            Plate = 0,
                        }
                    : entry with { Plate = last - plate }
                ),
            ],
            Findings = [.. fromCloth.Findings.Where(f => f.Code is not "white-is-grey"), .. Notes(asked)],
        };
    }

    /// <summary>White art alone has no base in screen printing; as a transfer it has a backing like any other.</summary>
    private static Separation WithBacking(Separation spot, SpotSettings settings)
    {
        var (first, white) = (spot.Plates[0], InkLibrary.BaseWhite(InkKind.Plastisol));
        var all = PlateDrawing.Sum([.. spot.Plates.Select(p => p.Shape!)], first.Tone.Width, first.Tone.Height);
        var backing = first with
        {
            Name = "White base",
            Purpose = PlatePurpose.Base,
            Ink = white,
            Mesh = settings.BaseMesh!,
            Shape = Choke.Yielding(all, settings.ChokeMm, spot.PixelsPerMm),
            Strokes = settings.BaseStrokes,
        };
        return spot with
        {
            Plates = [backing, .. spot.Plates],
            Palette = [.. spot.Palette.Select(e => e with { Plate = e.Plate + 1 })],
        };
    }

    private static Plate OnCarrier(Plate plate) =>
        plate with
        {
            Name =
                plate.Purpose.IsBase ? "White backing"
                : plate.Purpose == PlatePurpose.HighlightWhite ? "White"
                : plate.Name,
            Purpose =
                plate.Purpose.IsBase ? PlatePurpose.Base
                : plate.Purpose == PlatePurpose.HighlightWhite ? PlatePurpose.Spot
                : plate.Purpose,
            FlashAfter = false,
        };

    private static ImmutableArray<ScreenRun> Runs(Separation fromCloth, int last) =>
        [
            .. fromCloth
                .Plates.Reverse()
                .Select(
                    (plate, i) =>
                        new ScreenRun(
                            i,
                            true,
                            plate.Ink,
                            plate.Strokes,
                            false,
                            i == last ? "printed last on the carrier, so it lies under everything on the cloth"
                                : i == 0 ? "printed first on the carrier, so it lies on top; gelled before the next"
                                : "gelled before the next"
                        )
                ),
        ];

    private static IEnumerable<Finding> Notes(SpotSettings asked)
    {
        yield return new(
            "placed-by-hand",
            FindingWeight.Note,
            Text($"a transfer is laid by hand, within {PlacedWithinMm:0} mm of where it should be"),
            "nothing, or use a jig where it matters",
            PlacedWithinMm,
            null,
            "mm"
        );
        yield return new(
            "adhesive-powder",
            FindingWeight.Note,
            "adhesive powder, time, heat, pressure and hot or cold peel are the ink and carrier suppliers' business",
            "follow their sheets, press a test piece on this very cloth and wash it"
        );
        if (asked.Base == BaseChoice.None)
            yield return new(
                "backing-is-part",
                FindingWeight.Note,
                "no base was asked for; the white backing is part of a transfer, so it is printed",
                "nothing"
            );
    }
}
