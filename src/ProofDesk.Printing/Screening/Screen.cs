namespace ProofDesk.Printing.Screening;

public enum DotShape
{
    Round,
    Euclidean,
    Elliptical,
    Line,
    Square,

    /// <summary>No lattice: dots of one size where blue noise puts them; the ruling counts dots per inch, angles mean nothing.</summary>
    Stochastic,
}

/// <summary>
/// How tones of a plate become dots.
/// </summary>
/// <param name="LinesPerInch">Wanted ruling; the true one is reported by the threshold array.</param>
/// <param name="AngleDegrees">Wanted angle, 0..180.</param>
public sealed record Screen(double LinesPerInch, double AngleDegrees, DotShape Dot)
{
    /// <summary>Stochastic screens of different variants fall independently of each other.</summary>
    public int Variant { get; init; }

    public bool IsStochastic => Dot == DotShape.Stochastic;

    /// <summary>A stochastic screen of square dots of this size.</summary>
    public static Screen Stochastic(double dotUm, int variant) =>
        new(25400 / dotUm, 0, DotShape.Stochastic) { Variant = variant };

    /// <summary>lpi = mesh threads per inch / 4.5, rounded to 5, at least 15 (common practice).</summary>
    public static double UsualLinesPerInch(double meshThreadsPerInch) =>
        Math.Max(15, 5 * Math.Round(meshThreadsPerInch / 4.5 / 5, MidpointRounding.AwayFromZero));
}

/// <summary>Who makes the dots: we do (1-bit film at the device's resolution), or the device does (8-bit plates).</summary>
public enum HandOver
{
    DotsOurs,
    DotsTheirs,
}
