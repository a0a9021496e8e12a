namespace ProofDesk.Printing.Presses;

/// <summary>
/// How much area each combination of inks covers, [NEUGEBAUER-1937]. Index j of a result is a code: bit i says that ink i
/// is there. Which statistics hold depends on the screening, and moves colours by up to 10 dE00.
/// </summary>
public static class Neugebauer
{
    /// <summary>
    /// Independent screens (different angles, or stochastic): the product of a_i where the bit is set and 1 - a_i where it is
    /// not, [DEMICHEL-1924].
    /// </summary>
    public static double[] Demichel(ReadOnlySpan<double> coverages)
    {
        var areas = new double[1 << Checked(coverages)];
        areas[0] = 1;
        for (var ink = 0; ink < coverages.Length; ink++)
        for (var code = (1 << ink) - 1; code >= 0; code--)
        {
            areas[code | 1 << ink] = areas[code] * coverages[ink];
            areas[code] *= 1 - coverages[ink];
        }
        return areas;
    }

    /// <summary>
    /// Same ruling, angle and phase (simulated process in perfect register): areas lie inside each other, so the smallest
    /// coverage is printed by all inks, the step to the next by all but that one, and so on.
    /// </summary>
    public static double[] DotOnDot(ReadOnlySpan<double> coverages)
    {
        var areas = new double[1 << Checked(coverages)];
        var order = Enumerable.Range(0, coverages.Length).ToArray();
        var keys = coverages.ToArray();
        Array.Sort(keys, order);
        var code = areas.Length - 1;
        var below = 0.0;
        for (var i = 0; i < order.Length; i++)
        {
            areas[code] += keys[i] - below;
            below = keys[i];
            code &= ~(1 << order[i]);
        }
        areas[0] += 1 - below;
        return areas;
    }

    private static int Checked(ReadOnlySpan<double> coverages)
    {
        if (coverages.Length > 16)
            throw new ArgumentException($"{coverages.Length} inks make too many combinations to list, 16 at most");
        foreach (var a in coverages)
            if (a is not (>= 0 and <= 1))
                throw new ArgumentException($"a coverage is {a}, a number from 0 to 1 is needed");
        return coverages.Length;
    }
}
