using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>The colour a big solid of one screen is expected to measure on this ground, Lab D50, with its two ends.</summary>
/// <param name="Run">Index into the plan's runs.</param>
public sealed record ExpectedSolid(int Run, Lab Light, Lab Expected, Lab Heavy)
{
    /// <summary>Total radiance factor of the expected solid, to look at it under other lights.</summary>
    public required Spectrum Radiance { get; init; }

    /// <summary>What is seen of a metal where it mirrors something white; null for what does not mirror.</summary>
    public Lab? Specular { get; init; }

    /// <summary>The expected solid after <see cref="Migration.UsualDays"/>, where dye of the cloth goes into the ink; else null.</summary>
    public Lab? DaysLater { get; init; }
}

/// <summary>Expected solids of every running screen, for the ink list.</summary>
public static class ExpectedSolids
{
    /// <summary>One entry per running screen, in print order; a colour is taken on the bases that run below it.</summary>
    public static ImmutableArray<ExpectedSolid> Of(Separation separation, GroundPlan plan, PressSettings press)
    {
        press = separation.Press.Settings(press);
        var passes = ClothColour.RunsOf(separation, plan);
        var later = Migration.After(plan.Ground.Colour, passes, Migration.UsualDays);
        var solids = ImmutableArray.CreateBuilder<ExpectedSolid>();
        var bases = separation.Press.LastLiesLowest ? UnderColours(separation, plan) : 0;
        var bit = 0;
        for (var run = 0; run < plan.Runs.Length; run++)
        {
            if (!plan.Runs[run].Runs)
                continue;
            var earlier = plan.Runs.Take(run).Where(r => r.Runs).Select((r, i) => (r.Plate, Bit: 1UL << i));
            var again = earlier.Where(e => e.Plate == plan.Runs[run].Plate).Aggregate(0UL, (all, e) => all | e.Bit);
            var code = bases | again | 1UL << bit;
            Spectrum At(Deposit deposit, ImmutableArray<InkPass> inks) =>
                separation.Press.On(plan.Ground, inks, press, deposit).Solid(code);
            var expected = At(Deposit.Expected, passes);
            solids.Add(
                new(run, LabOf(At(Deposit.Light, passes)), LabOf(expected), LabOf(At(Deposit.Heavy, passes)))
                {
                    Radiance = expected,
                    Specular = separation.Press.On(plan.Ground, passes, press, Deposit.Expected).MirrorOfSolid(code)
                        is { } mirror
                        ? LabOf(MetalChecks.Mirroring(expected, mirror))
                        : null,
                    DaysLater = later == passes ? null : LabOf(At(Deposit.Expected, later)),
                }
            );
            if (separation.Plates[plan.Runs[run].Plate].Purpose.IsUnderColours)
                bases |= 1UL << bit;
            bit++;
        }
        return solids.ToImmutable();
    }

    private static Lab LabOf(Spectrum radiance) =>
        CieLab.FromXyz(Tristimulus.Of(radiance, ViewingLight.D50), ViewingLight.D50);

    private static ulong UnderColours(Separation separation, GroundPlan plan) =>
        plan
            .Runs.Where(r => r.Runs)
            .Select((r, i) => separation.Plates[r.Plate].Purpose.IsUnderColours ? 1UL << i : 0)
            .Aggregate(0UL, (all, bit) => all | bit);
}
