using System.Collections.Immutable;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// A film on knit is not flat. Its thickness follows a Gamma distribution around the mean (a modelling choice: positive, skewed,
/// one number), cut into eight classes of equal area, each standing for its middle quantile.
/// </summary>
public sealed class ThicknessSpread
{
    /// <summary>Number of classes, each covering one eighth of the area.</summary>
    public const int Classes = 8;

    private ThicknessSpread(double cv, ImmutableArray<double> multipliers)
    {
        Cv = cv;
        Multipliers = multipliers;
    }

    /// <summary>Coefficient of variation asked for; eight classes keep about nine tenths of it.</summary>
    public double Cv { get; }

    /// <summary>Thickness of each class relative to the mean, thin to thick; their mean is exactly 1.</summary>
    public ImmutableArray<double> Multipliers { get; }

    /// <summary>A film of even thickness.</summary>
    public static ThicknessSpread Even { get; } = new(0, [.. Enumerable.Repeat(1.0, Classes)]);

    /// <summary>Those of the usual press: every solid asks for both, and finding quantiles took two thirds of choosing inks.</summary>
    private static readonly ThicknessSpread[] Usual = [Make(0.5), Make(0.3)];

    /// <summary>Gamma with mean 1: shape 1/cv^2, scale cv^2.</summary>
    public static ThicknessSpread Gamma(double cv)
    {
        if (cv is not (>= 0 and < 2))
            throw new ArgumentOutOfRangeException(
                nameof(cv),
                cv,
                $"the thickness varies by {cv} of its mean, a number from 0 to below 2 is needed"
            );
        if (cv < 1e-3)
            return Even;
        return Array.Find(Usual, spread => spread.Cv == cv) ?? Make(cv);
    }

    private static ThicknessSpread Make(double cv)
    {
        var shape = 1 / (cv * cv);
        var quantiles = Enumerable.Range(0, Classes).Select(i => Quantile(shape, (i + 0.5) / Classes)).ToArray();
        var mean = quantiles.Average();
        return new(cv, [.. quantiles.Select(q => q / mean)]);
    }

    // Bisection on the regularised lower incomplete gamma function.
    internal static double Quantile(double shape, double probability)
    {
        double low = 0,
            high = shape + 20 * Math.Sqrt(shape) + 20;
        for (var i = 0; i < 80; i++)
        {
            var middle = (low + high) / 2;
            if (RegularisedGamma(shape, middle) < probability)
                low = middle;
            else
                high = middle;
        }
        return (low + high) / 2;
    }

    // P(s, x) = x^s e^-x sum x^n / Gamma(s + n + 1), [NIST-DLMF] 8.7.1; all terms positive, so no digits are lost.
    private static double RegularisedGamma(double s, double x)
    {
        if (x <= 0)
            return 0;
        var term = Math.Exp(s * Math.Log(x) - x - LogGamma(s + 1));
        var sum = term;
        for (var n = 1; term > 1e-17 * sum || n < x; n++)
        {
            term *= x / (s + n);
            sum += term;
        }
        return Math.Min(1, sum);
    }

    // Stirling's series, [NIST-DLMF] 5.11.1, after raising the argument above 12 where four terms give 1e-12.
    private static double LogGamma(double z)
    {
        var shift = 0.0;
        for (; z < 12; z++)
            shift += Math.Log(z);
        var z2 = z * z;
        return (z - 0.5) * Math.Log(z)
            - z
            + Math.Log(2 * Math.PI) / 2
            + (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - 1.0 / 1680 / z2) / z2) / z2) / z
            - shift;
    }
}
