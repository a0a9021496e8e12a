using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Proofs;

/// <summary>What inks and cloth will do that no plate shows: other lights, dye that wanders.</summary>
public static class PrintChecks
{
    /// <summary>Findings about the printed colours, whatever the method.</summary>
    public static IEnumerable<Finding> Of(Separation separation, PressSettings press)
    {
        foreach (var plan in separation.Grounds)
            if (DyeMigration(separation, plan, press) is { } migration)
                yield return migration;
        if (FallingApart(separation, press) is { } apart)
            yield return apart;
    }

    /// <summary>Each running plate that prints a colour of the art, beside that colour.</summary>
    public static ImmutableArray<SecondLightRow> SecondLights(
        Separation separation,
        GroundPlan plan,
        PressSettings press
    )
    {
        var rows = ImmutableArray.CreateBuilder<SecondLightRow>();
        foreach (var solid in LastRuns(ExpectedSolids.Of(separation, plan, press), plan))
        {
            var plate = plan.Runs[solid.Run].Plate;
            var colour = separation.Palette.Where(p => p.Plate == plate).MaxBy(p => p.AreaMm2);
            if (colour is null)
                continue;
            var target = SmoothSpectrum.WithColour(colour.ArtColour, ViewingLight.D50);
            rows.Add(
                new(
                    separation.Plates[plate].Name,
                    $"the art's {Hex(colour.ArtColour)}",
                    SecondLight.Between(target, solid.Radiance),
                    SecondLight.Look(solid.Radiance, ViewingLight.ATenDegrees),
                    SecondLight.Look(solid.Radiance, ViewingLight.F11TenDegrees)
                )
            );
        }
        return rows.ToImmutable();
    }

    /// <summary>One sentence for the whole proof: the match that widens most.</summary>
    private static Finding? FallingApart(Separation separation, PressSettings press)
    {
        var worst = separation
            .Grounds.SelectMany(plan => SecondLights(separation, plan, press).Select(row => (plan, row)))
            .Where(x => x.row.Difference.IsMetameric)
            .OrderByDescending(x => x.row.Difference.Worst - x.row.Difference.UnderD65)
            .FirstOrDefault();
        if (worst.row is not { } row)
            return null;
        var difference = row.Difference;
        return new(
            "second-light",
            FindingWeight.Note,
            Text(
                $"{row.Plate} on {worst.plan.Ground.Colour.Name.ToLowerInvariant()} matches {row.Target} under D65 (dE00 {difference.UnderD65:0.0}), but dE00 {difference.Worst:0.0} under {difference.WorstLight}"
            ),
            "look at the first print in a shop's light and at home as well; where it must match a cloth or a card, measure that and have the ink mixed to its spectrum",
            Math.Round(difference.Worst, 1),
            Math.Round(difference.UnderD65 + SecondLight.FallsApart, 1),
            "dE00"
        );
    }

    private static Finding? DyeMigration(Separation separation, GroundPlan plan, PressSettings press)
    {
        var worst = LastRuns(ExpectedSolids.Of(separation, plan, press), plan)
            .Where(s =>
                s.DaysLater is not null
                && separation.Plates[plan.Runs[s.Run].Plate].Purpose != PlatePurpose.BlockingBase
            )
            .Select(s => (Solid: s, Moves: Ciede2000.Difference(s.Expected, s.DaysLater!.Value)))
            .OrderByDescending(s => s.Moves)
            .FirstOrDefault();
        if (worst.Moves < Migration.Visible)
            return null;
        var blocked = plan.Runs.Any(r => r.Runs && r.Ink.DyeBlocking > 0);
        return new(
            "dye-migration",
            FindingWeight.Warning,
            Text(
                $"the polyester of {plan.Ground.Colour.Name.ToLowerInvariant()} is dyed and its dye wanders into plastisol: {separation.Plates[plan.Runs[worst.Solid.Run].Plate].Name} is expected to move by dE00 {worst.Moves:0.0} within {Migration.UsualDays:0} days"
            ),
            blocked
                ? "print a second blocking base or ask the supplier for low-bleed inks; keep the heat as low as the ink supplier's sheet allows, and leave a print for some days before the run"
                : "run the blocking base first, under the white, or ask the supplier for low-bleed inks; keep the heat as low as the ink supplier's sheet allows, and leave a print for some days before the run",
            Math.Round(worst.Moves, 1),
            Migration.Visible,
            "dE00"
        );
    }

    /// <summary>Of a screen that runs twice, what both runs leave.</summary>
    private static IEnumerable<ExpectedSolid> LastRuns(ImmutableArray<ExpectedSolid> solids, GroundPlan plan) =>
        solids.GroupBy(s => plan.Runs[s.Run].Plate).Select(runs => runs.Last());

    private static string Hex(Lab lab)
    {
        var rgb = GamutMapping.IntoSrgb(Srgb.FromLab(lab));
        int Code(double linear) => (int)Math.Round(255 * Srgb.Encode(Math.Clamp(linear, 0, 1)));
        return $"#{Code(rgb.R):x2}{Code(rgb.G):x2}{Code(rgb.B):x2}";
    }
}
