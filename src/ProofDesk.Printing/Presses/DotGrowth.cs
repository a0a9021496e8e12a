namespace ProofDesk.Printing.Presses;

/// <summary>
/// Tone gained at 50 % when every edge of a checkerboard (a Euclidean dot at half tone) grows by the same distance: the holes,
/// squares with the side p/sqrt(2), shrink by the growth on each side (a Minkowski sum; plane geometry, no source needed). The press
/// simulation grows the film bits themselves; this is its check.
/// </summary>
public static class DotGrowth
{
    /// <summary>Tone value increase 0..0.5 of the 50 % checker of this ruling.</summary>
    public static double CheckerGain(double linesPerInch, double growthUm)
    {
        var period = 25400 / linesPerInch;
        var hole = Math.Max(0, period / Math.Sqrt(2) - 2 * growthUm);
        return 0.5 - hole * hole / (period * period);
    }
}
