namespace ProofDesk.Printing.TestForms;

/// <summary>A scan's pixel, mm from where the rings' middle was drawn, in the channel that shows them best.</summary>
internal readonly record struct RingPixel(double X, double Y, double Light);

/// <summary>
/// The mean light across one ring and one gap, from all pixels folded onto one period by their radius: they lie at many
/// places of the period, so the profile is finer than the scan. It is even about the middle of the gap; half of it is kept.
/// </summary>
internal sealed class RingProfile
{
    /// <summary>Bins of half a period.</summary>
    public const int Bins = 60;

    public const double PeriodMm = 2 * TestFormLayout.RingMm;

    private const int Sectors = 24;

    private RingProfile(double[] light) => Light = light;

    /// <summary>Light from the middle of the gap to the middle of the ring.</summary>
    public double[] Light { get; }

    /// <summary>Whole periods only, from the first ring's middle to the last one's.</summary>
    public static RingProfile Of(IReadOnlyList<RingPixel> pixels)
    {
        var (x, y) = (0.0, 0.0);
        for (var again = 0; again < 4; again++)
        {
            var (dx, dy) = Middle(pixels, x, y);
            (x, y) = (x + dx, y + dy);
        }
        var sums = new double[Bins];
        var counts = new int[Bins];
        foreach (var pixel in pixels)
        {
            if (Radius(pixel, x, y) is not { } radius)
                continue;
            var fromRing = Math.Abs(radius - PeriodMm * Math.Round(radius / PeriodMm));
            var bin = Math.Clamp((int)((1 - 2 * fromRing / PeriodMm) * Bins), 0, Bins - 1);
            sums[bin] += pixel.Light;
            counts[bin]++;
        }
        return new([.. sums.Select((sum, i) => sum / Math.Max(1, counts[i]))]);
    }

    /// <summary>
    /// Where the rings really are: the phase of their first harmonic, sector by sector, moves with the middle's offset.
    /// </summary>
    private static (double X, double Y) Middle(IReadOnlyList<RingPixel> pixels, double x, double y)
    {
        var (re, im, count, sum) = (new double[Sectors], new double[Sectors], 0, 0.0);
        foreach (var pixel in pixels)
            if (Radius(pixel, x, y) is not null)
                (count, sum) = (count + 1, sum + pixel.Light);
        foreach (var pixel in pixels)
        {
            if (Radius(pixel, x, y) is not { } radius)
                continue;
            var angle = Math.Atan2(pixel.Y - y, pixel.X - x) / (2 * Math.PI) + 1;
            var sector = (int)(angle * Sectors) % Sectors;
            var (sin, cos) = Math.SinCos(2 * Math.PI * radius / PeriodMm);
            // Seen over the circle each radius counts the same.
            re[sector] += cos * (pixel.Light - sum / count) / radius;
            im[sector] += sin * (pixel.Light - sum / count) / radius;
        }
        // Against the mean of all sectors, so that no phase is near the jump.
        var (meanRe, meanIm) = (re.Sum(), im.Sum());
        var (dx, dy) = (0.0, 0.0);
        for (var s = 0; s < Sectors; s++)
        {
            var phase = Math.Atan2(im[s] * meanRe - re[s] * meanIm, re[s] * meanRe + im[s] * meanIm);
            var (sin, cos) = Math.SinCos(2 * Math.PI * (s + 0.5) / Sectors);
            var outward = phase / (2 * Math.PI) * PeriodMm;
            (dx, dy) = (dx + 2 * outward * cos / Sectors, dy + 2 * outward * sin / Sectors);
        }
        return (dx, dy);
    }

    private static double? Radius(RingPixel pixel, double x, double y)
    {
        var radius = Math.Sqrt((pixel.X - x) * (pixel.X - x) + (pixel.Y - y) * (pixel.Y - y));
        return radius >= PeriodMm && radius < TestFormLayout.Rings * PeriodMm ? radius : null;
    }
}
