using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What a density reading would say about two inks on each other.
/// </summary>
/// <param name="First">Name of the plate below.</param>
/// <param name="Second">Name of the plate above.</param>
/// <param name="ApparentTrap">Share of the second ink that seems to have been taken up, 1 = all.</param>
public sealed record Overprint(string First, string Second, double ApparentTrap);

/// <summary>
/// Ink trapping by density, Preucil's formula (from memory): (D of the overprint - D of the first) / D of the second, in the
/// light the second ink takes most of, densities above the ground's. Exact for clear inks in thin layers; surface and
/// scatter make it read low, so it is the apparent trap.
/// </summary>
public static class InkTrapping
{
    /// <summary>Above this contrast ratio the second ink hides the first and the reading says nothing.</summary>
    public const double LargestHiding = 0.5;

    private const double LeastDensity = 0.1;

    public static double Preucil(double overprintDensity, double firstDensity, double secondDensity) =>
        (overprintDensity - firstDensity) / secondDensity;

    /// <summary>Clear colours that follow each other on this ground, on whatever bases run below.</summary>
    public static ImmutableArray<Overprint> Of(Separation separation, GroundPlan plan, PressSettings press)
    {
        var passes = ClothColour.RunsOf(separation, plan);
        var plates = plan.Runs.Where(r => r.Runs).Select(r => separation.Plates[r.Plate]).ToArray();
        var cloth = separation.Press.On(plan.Ground, passes, separation.Press.Settings(press), Deposit.Expected);
        var bases = plates.Select((p, i) => p.Purpose.IsUnderColours ? 1UL << i : 0).Aggregate(0UL, (a, b) => a | b);
        var colours = Enumerable
            .Range(0, plates.Length)
            .Where(i => plates[i].Purpose is PlatePurpose.Spot or PlatePurpose.Process)
            .ToArray();
        return
        [
            .. colours
                .Zip(colours.Skip(1))
                .Where(pair => pair.First != pair.Second && IsClear(cloth, bases, pair.Second))
                .Select(pair => (pair, Trap: Trap(cloth, bases, 1UL << pair.First, 1UL << pair.Second)))
                .Where(read => read.Trap is not null)
                .Select(read => new Overprint(
                    plates[read.pair.First].Name,
                    plates[read.pair.Second].Name,
                    read.Trap!.Value
                )),
        ];
    }

    /// <summary>Preucil's trap of two passes on a cloth, bits of its code; null where the second ink has no density.</summary>
    internal static double? Trap(InkedCloth cloth, ulong bases, ulong first, ulong second)
    {
        var ground = cloth.Solid(bases);
        Spectrum Density(ulong code) =>
            Spectrum.Combine(cloth.Solid(bases | code), ground, (r, g) => -Math.Log10(Math.Max(1e-6, r / g)));
        var (upper, lower, both) = (Density(second), Density(first), Density(first | second));
        var band = Enumerable.Range(0, Spectrum.Bands).MaxBy(i => upper[i]);
        return upper[band] < LeastDensity ? null : Preucil(both[band], lower[band], upper[band]);
    }

    private static bool IsClear(InkedCloth cloth, ulong bases, int pass)
    {
        double Y(Spectrum s) => Tristimulus.Of(s, ViewingLight.D50).Y;
        var middle = new ClothPoint(ThicknessSpread.Classes / 2, false);
        return Y(cloth.OverBlack(1UL << pass, middle)) < LargestHiding * Y(cloth.Solid(bases | 1UL << pass));
    }
}
