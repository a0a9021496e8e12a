namespace ProofDesk.Printing.Presses;

/// <summary>
/// How far light travels sideways in the cloth before it comes out: the exponential point spread function p(r) =
/// exp(-r/l) / (2 pi l^2) ([PHYSICS] 1.16), applied across and then down as its line spread function. That is exact for
/// edges along the axes and spreads a little more along the diagonal, which the wide range of l makes immaterial.
/// </summary>
internal static class OpticalSpread
{
    /// <summary>Weights over cells, centre in the middle, sum 1.</summary>
    /// <param name="lengthUm">l, scattering length.</param>
    /// <param name="cellUm">Width of a cell.</param>
    public static float[] Weights(double lengthUm, double cellUm)
    {
        var radius = Math.Min(64, (int)Math.Ceiling(4 * lengthUm / cellUm));
        var exact = new double[2 * radius + 1];
        double sum = 0;
        for (var i = -radius; i <= radius; i++)
            sum += exact[i + radius] = CellWeight(Math.Abs(i), cellUm / lengthUm);
        var weights = new float[exact.Length];
        for (var i = 0; i < exact.Length; i++)
            weights[i] = (float)(exact[i] / sum);
        return weights;
    }

    /// <summary>
    /// Mean line spread between two cells i apart (box of the cell taken twice, once for where light enters and once for
    /// where it leaves, would blur the picture: the source is already a cell mean, so one box is right).
    /// </summary>
    private static double CellWeight(int i, double cellInLengths)
    {
        const int steps = 40;
        double sum = 0;
        for (var k = 0; k < steps; k++)
            sum += LineSpread(Math.Abs((i - 0.5 + (k + 0.5) / steps) * cellInLengths));
        return sum / steps;
    }

    /// <summary>Integral of exp(-r) / (2 pi) along a line at distance x, with y = x sinh t: x/pi times the integral of cosh t exp(-x cosh t).</summary>
    private static double LineSpread(double x)
    {
        const double step = 0.05;
        double sum = 0;
        for (var t = step / 2; t < 12; t += step)
        {
            var cosh = Math.Cosh(t);
            var term = cosh * Math.Exp(-x * cosh);
            sum += term;
            if (x * cosh > 40)
                break;
        }
        return x * sum * step / Math.PI;
    }
}
