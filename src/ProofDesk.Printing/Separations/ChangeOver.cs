using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Separations;

/// <summary>The change-over sheet: for each ground which screens of the one set run, and why.</summary>
internal static class ChangeOver
{
    public static ImmutableArray<GroundPlan> Plans(
        ImmutableArray<MadePlate> made,
        BaseDecision decision,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    ) => [.. grounds.Select((ground, g) => new GroundPlan(ground, Runs(made, decision, ground, g, settings)))];

    private static ImmutableArray<ScreenRun> Runs(
        ImmutableArray<MadePlate> made,
        BaseDecision decision,
        Ground ground,
        int g,
        SpotSettings settings
    )
    {
        var runs = ImmutableArray.CreateBuilder<ScreenRun>();
        for (var i = 0; i < made.Length; i++)
        {
            var plate = made[i].Plate;
            var (prints, reason) = plate.Purpose switch
            {
                PlatePurpose.Base or PlatePurpose.BaseAndWhite or PlatePurpose.DischargeBase => (
                    decision.Runs[g],
                    decision.Reasons[g]
                ),
                PlatePurpose.BlockingBase => Blocking(decision, ground, g),
                PlatePurpose.HighlightWhite => decision.Runs[g] && made[i].Ink!.Prints[g]
                    ? (true, "a second white on top was asked for")
                    : (false, "nothing to lighten where the base rests"),
                _ => Spot(made[i].Ink!, ground, g, made.Any(m => m.Plate.Purpose == PlatePurpose.DischargeBase)),
            };
            // Art that is white alone has no base under it: its white is printed, flashed and printed again.
            var twice =
                prints
                && settings.PrintFlashPrint
                && (
                    plate.Purpose is PlatePurpose.Base or PlatePurpose.BaseAndWhite
                    || plate.Purpose == PlatePurpose.Spot && made[i].Ink!.IsWhite
                );
            runs.Add(new(i, prints, plate.Ink, plate.Strokes, plate.FlashAfter || twice, reason));
            if (twice)
                runs.Add(
                    new(i, true, plate.Ink, plate.Strokes, plate.FlashAfter, "the same screen again after the flash")
                );
        }
        return runs.ToImmutable();
    }

    private static (bool, string) Blocking(BaseDecision decision, Ground ground, int g)
    {
        var cloth = ground.Colour.Name.ToLowerInvariant();
        if (Migration.WanderingKs(ground.Colour) is null)
            return (false, $"rests on {cloth}: no dye of it wanders");
        return decision.Runs[g] || decision.Inks.Any(ink => ink.Prints[g])
            ? (true, $"keeps the dye of {cloth}'s polyester from the inks above")
            : (false, $"nothing prints on {cloth}");
    }

    private static (bool, string) Spot(ArtInk ink, Ground ground, int g, bool discharge) =>
        ink.Prints[g]
            ? (
                true,
                !ink.OnBase ? "prints on the cloth"
                : discharge ? "prints; the cloth under it is discharged where the base runs"
                : "prints; white under it where the base runs"
            )
            : (false, $"the cloth shows: {Shade(ink)} on {ground.Colour.Name.ToLowerInvariant()}");

    public static string Shade(ArtInk ink) =>
        ClothShows.IsWhite(ink.Wanted) ? "white"
        : ClothShows.IsNearBlack(ink.Wanted) ? "near-black"
        : ink.Name.ToLowerInvariant();
}
