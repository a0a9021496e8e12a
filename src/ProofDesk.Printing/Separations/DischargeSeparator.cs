using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Discharge separates as water-based does, without a base: what would need one gets its pale ground out of the cloth. Then
/// it says what each cloth will do.
/// </summary>
internal static class DischargeSeparator
{
    public static SpotRules Rules { get; } =
        new()
        {
            HasBase = false,
            BaseInk = DischargeInks.All.First(ink => ink.Role == InkRole.White),
            ColourMesh = Meshes.Discharge,
            BaseMesh = Meshes.Discharge,
        };

    public static PrintMethod Method { get; } =
        new(
            "discharge",
            "Screen print, discharge",
            InkKind.Discharge,
            InkKind.Discharge,
            "takes the dye out of cotton and leaves pigment in it: soft, hardly any weight, on dark cotton that can be discharged",
            DischargeInks.Caution
        )
        {
            Separate = Separate,
            Rules = Rules,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var spot = SpotSeparator.Separate(art, method, grounds, settings with { PrintFlashPrint = false });
        // The mesh that discharges least decides what is said.
        var mesh = spot.Plates.Select(p => p.Mesh).DefaultIfEmpty(Meshes.Discharge).MinBy(m => m.TheoreticalInkVolume)!;
        return spot with
        {
            Findings =
            [
                .. spot.Findings,
                .. NoBase(settings),
                .. grounds.SelectMany(ground =>
                    DischargeChecks.Of(ground, new(DischargeInks.Base, mesh, 1, false), settings.Press)
                ),
            ],
        };
    }

    private static IEnumerable<Finding> NoBase(SpotSettings settings)
    {
        if (settings.Base == BaseChoice.White || settings.PrintFlashPrint)
            yield return new(
                "no-base-in-this-method",
                FindingWeight.Note,
                "no base is made: discharge takes its pale ground out of the cloth itself",
                "nothing, or print plastisol with --base white or --base discharge"
            );
    }
}
