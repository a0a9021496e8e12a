using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// Growth from the profile of rings: where the edge lies is found together with how far light spreads in the cloth beside it
/// and how unsharp the scan is, or the shadow at the edge (optical gain) would be taken for ink. Light leaving the gap is
/// a + b S(gap), S = the spread of <see cref="OpticalSpread"/>: the first part for a base that sends it straight back, the
/// second for cloth ([ARNEY-1995]), a third crosses the edge under an ink that lets some through; the ring's own light
/// is constant. The sharpness is a Gaussian.
/// </summary>
internal sealed class RingFit
{
    /// <summary>Half a period in cells; the model's grid.</summary>
    private const int Half = 120;
    private const int Cells = 2 * Half;

    private readonly RingProfile _profile;
    private readonly double _cellUm;

    private RingFit(RingProfile profile) => (_profile, _cellUm) = (profile, 1000 * RingProfile.PeriodMm / Cells);

    /// <summary>Ink growth at each edge, um, and the fit's rms over the contrast.</summary>
    /// <param name="clothIsPale">A dark cloth returns no light that could have spread.</param>
    public static (double GrowthUm, double Residual) Growth(RingProfile profile, double pixelUm, bool clothIsPale)
    {
        var fit = new RingFit(profile);
        var best = (Growth: 0.0, Spread: 0.0, Blur: pixelUm / 2, Error: double.MaxValue);
        foreach (var spread in clothIsPale ? (double[])[0, 80, 160, 260] : [0])
            for (var growth = -10.0; growth <= 130; growth += 14)
                Try(growth, spread, 0.5 * pixelUm);
        // Halving steps along each of the three, from the best of the coarse net.
        for (double step = 1; step > 0.02; step /= 2)
        {
            for (var moves = 0; moves < 12; moves++)
            {
                var before = best.Error;
                var (g, s, b) = (best.Growth, best.Spread, best.Blur);
                foreach (var sign in (int[])[-1, 1])
                {
                    Try(g + sign * 8 * step, s, b);
                    Try(g, Math.Max(0, s + sign * 40 * step), b);
                    Try(g, s, Math.Max(0.15 * pixelUm, b + sign * 0.25 * step * pixelUm));
                    Try(g + sign * 4 * step, Math.Max(0, s + 20 * step), b);
                    Try(g + sign * 4 * step, Math.Max(0, s - 20 * step), b);
                }
                if (best.Error > before * (1 - 1e-6))
                    break;
            }
        }
        var contrast = profile.Light.Max() - profile.Light.Min();
        return (best.Growth, Math.Sqrt(best.Error / RingProfile.Bins) / contrast);

        void Try(double growth, double spread, double blur)
        {
            (growth, spread) = (Math.Clamp(growth, -60, 250), clothIsPale ? Math.Min(spread, 400) : 0);
            var error = fit.Error(growth, spread, blur);
            if (error < best.Error)
                best = (growth, spread, blur, error);
        }
    }

    /// <summary>Sum of squares left when the three lights are chosen best.</summary>
    private double Error(double growthUm, double spreadUm, double blurUm)
    {
        var gap = Gap(growthUm);
        var through = spreadUm < 10 ? gap : Product(gap, Spread(gap, OpticalSpread.Weights(spreadUm, _cellUm)));
        var blur = Gauss(blurUm / _cellUm);
        var one = Bin(Spread(gap, blur));
        var two = Bin(Spread(through, blur));
        // The ring is what the gap is not.
        var ring = one.Select(v => 1 - v).ToArray();
        double[][] basis = spreadUm < 10 ? [one, ring] : [one, two, ring, Bin(Spread(Cross(gap, spreadUm), blur))];
        return Least(basis, _profile.Light);
    }

    /// <summary>Openness of each cell of a period, the gap in the middle of it at cell 0.</summary>
    private double[] Gap(double growthUm)
    {
        var edge = Half / 2.0 - growthUm / _cellUm;
        var open = new double[Cells];
        for (var i = 0; i < Cells; i++)
        {
            var from = Math.Min(i, Cells - 1 - i);
            open[i] = Math.Clamp(edge - from, 0, 1);
        }
        return open;
    }

    /// <summary>Light that goes in at the ring and out at the gap, or the other way: an ink that is not quite opaque.</summary>
    private double[] Cross(double[] gap, double spreadUm)
    {
        var s = Spread(gap, OpticalSpread.Weights(spreadUm, _cellUm));
        return [.. gap.Select((g, i) => g * (1 - s[i]) + (1 - g) * s[i])];
    }

    private static double[] Product(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x * y)];

    /// <summary>Around the period, which is its own mirror image: half of it is summed.</summary>
    private static double[] Spread(double[] values, float[] weights)
    {
        var reach = weights.Length / 2;
        var around = new double[Half + 2 * reach];
        for (var i = 0; i < around.Length; i++)
            around[i] = values[((i - reach) % Cells + Cells) % Cells];
        var result = new double[Cells];
        for (var i = 0; i < Half; i++)
        {
            double sum = 0;
            var under = around.AsSpan(i, weights.Length);
            for (var k = 0; k < under.Length; k++)
                sum += weights[k] * under[k];
            result[i] = result[Cells - 1 - i] = sum;
        }
        return result;
    }

    private static float[] Gauss(double sigma)
    {
        var reach = Math.Max(1, (int)Math.Ceiling(4 * sigma));
        var weights = new float[2 * reach + 1];
        for (var i = -reach; i <= reach; i++)
            weights[i + reach] = (float)Math.Exp(-i * i / (2 * sigma * sigma));
        var sum = weights.Sum();
        for (var i = 0; i < weights.Length; i++)
            weights[i] /= sum;
        return weights;
    }

    /// <summary>From the middle of the gap to the middle of the ring, in the profile's bins.</summary>
    private static double[] Bin(double[] cells)
    {
        const int Each = Half / RingProfile.Bins;
        var bins = new double[RingProfile.Bins];
        for (var i = 0; i < Half; i++)
            bins[i / Each] += cells[i] / Each;
        return bins;
    }

    /// <summary>Least squares by the normal equations; lights are not negative, so a part that comes out so is left out.</summary>
    private static double Least(double[][] basis, double[] wanted)
    {
        var n = basis.Length;
        var rows = new double[n, n + 1];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < n; j++)
                rows[i, j] = Dot(basis[i], basis[j]);
            rows[i, n] = Dot(basis[i], wanted);
        }
        for (var k = 0; k < n; k++)
        for (var i = 0; i < n; i++)
        {
            if (i == k || rows[k, k] == 0)
                continue;
            var share = rows[i, k] / rows[k, k];
            for (var c = k; c <= n; c++)
                rows[i, c] -= share * rows[k, c];
        }
        var solved = Enumerable.Range(0, n).Select(i => rows[i, i] == 0 ? 0 : rows[i, n] / rows[i, i]).ToArray();
        var negative = Array.FindIndex(solved, v => v < -1e-3);
        if (negative >= 0 && n > 2)
            return Least([.. basis.Where((_, i) => i != negative)], wanted);
        double sum = 0;
        for (var b = 0; b < wanted.Length; b++)
        {
            var here = wanted[b];
            for (var i = 0; i < n; i++)
                here -= solved[i] * basis[i][b];
            sum += here * here;
        }
        return sum;
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
