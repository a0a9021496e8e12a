using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Compares the expected solid of an ink with its target, and tries what a press room would try: a lighter and a heavier
/// deposit, one or two passes, bare cloth, a white base and one printed twice.
/// </summary>
internal static class TargetMatches
{
    private const int MostPasses = 2;

    /// <summary>Null when the ink has no target.</summary>
    public static TargetMatch? Of(Separation separation, GroundPlan plan, PressSettings press, ExpectedSolid solid)
    {
        var run = plan.Runs[solid.Run];
        if (run.Ink.Target is not { } target)
            return null;
        var settings = separation.Press.Settings(press);
        Lab Printed(ImmutableArray<InkPass> passes, ulong code, Deposit deposit) =>
            Seen(separation.Press.On(plan.Ground, passes, settings, deposit).Solid(code), target.Light);

        var predicted = Seen(solid.Radiance, target.Light);
        var own = new InkPass(run.Ink, separation.Plates[run.Plate].Mesh, 1, FlashAfter: true);
        var tried =
            from bases in Bases(separation, plan, run.Ink)
            from passes in Enumerable.Range(1, MostPasses)
            from deposit in Enum.GetValues<Deposit>()
            let stack = bases.AddRange(Enumerable.Repeat(own, passes))
            let lab = Printed(stack, ulong.MaxValue >> (64 - stack.Length), deposit)
            select new TargetReach(Ciede2000.Difference(lab, target.Lab), deposit, passes, bases.Length);
        // The plainest of equally near ways comes first.
        var ways = tried.OrderBy(way => way.DeltaE).ToArray();
        return new(
            target,
            predicted,
            Ciede2000.Difference(predicted, target.Lab),
            ways[0],
            ways.First(way => way.BasePasses == 0)
        );
    }

    private static Lab Seen(Spectrum radiance, ViewingLight light) =>
        CieLab.FromXyz(Tristimulus.Of(radiance, light), light);

    private static IEnumerable<ImmutableArray<InkPass>> Bases(Separation separation, GroundPlan plan, Ink ink)
    {
        yield return [];
        if (ink.Role == InkRole.White || !InkDefinition.Kinds.Contains(ink.Kind))
            yield break;
        var planned = plan.Runs.FirstOrDefault(run => run.Runs && separation.Plates[run.Plate].Purpose.IsBase);
        var white = planned?.Ink ?? InkLibrary.BaseWhite(ink.Kind);
        if (white.Convention != ink.Convention)
            yield break;
        var mesh = planned is null ? Meshes.SolidBase(ink.Kind) : separation.Plates[planned.Plate].Mesh;
        var once = new InkPass(white, mesh, 1, FlashAfter: true);
        yield return [once];
        yield return [once, once];
    }
}
