using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// How far a vernier's scale lies from the main one, measured and not read: each scale's phase is that of the first harmonic of
/// its own pitch under a Hann window, the same for thin and for grown lines.
/// </summary>
internal static class VernierScan
{
    /// <summary>mm along the scale, positive to the right or down.</summary>
    public static double OffsetMm(FormScan scan, FormVernier site)
    {
        const double Vernier = TestFormLayout.ScaleDepth + TestFormLayout.ScaleGap;
        // All lines lie near the other scale, only every fifth reaches the far end.
        var main = PlaceMm(scan, site, TestFormLayout.ShortBy + 0.3, 1.0, TestFormLayout.MainPitch);
        var place = PlaceMm(scan, site, Vernier + 0.4, 0.8, TestFormLayout.VernierPitch);
        // One pitch looks like the next; the long lines say which.
        var zero = Enumerable
            .Range(-1, 3)
            .Select(k => place + k * TestFormLayout.VernierPitch)
            .MinBy(z => Far(scan, site, z));
        return zero - main;
    }

    /// <summary>Light where the far ends of every fifth line would be, against that half a pitch beside them.</summary>
    private static double Far(FormScan scan, FormVernier site, double zero)
    {
        const double From =
            TestFormLayout.ScaleDepth
            + TestFormLayout.ScaleGap
            + TestFormLayout.ScaleDepth
            - TestFormLayout.ShortBy
            + 0.3;
        const double Depth = 0.8;
        const double Half = TestFormLayout.VernierLineMm / 2;
        double Light(double along)
        {
            var (x, y) = TestFormLayout.Zero(site);
            var c = site.AlongX
                ? scan.Mean(x + along - Half, site.Y + From, 2 * Half, Depth)
                : scan.Mean(site.X + From, y + along - Half, Depth, 2 * Half);
            return c.R + c.G + c.B;
        }
        double sum = 0;
        for (var line = -5; line <= 5; line += 5)
        {
            var at = zero + line * TestFormLayout.VernierPitch;
            sum +=
                Light(at)
                - (Light(at - TestFormLayout.VernierPitch / 2) + Light(at + TestFormLayout.VernierPitch / 2)) / 2;
        }
        return sum;
    }

    private static double PlaceMm(FormScan scan, FormVernier site, double from, double depth, double pitch)
    {
        var (zeroX, zeroY) = TestFormLayout.Zero(site);
        const double Reach = TestFormLayout.VernierReach * TestFormLayout.VernierPitch;
        var pixels = new List<(double Along, LinearRgb Light)>();
        if (site.AlongX)
            scan.Each(zeroX - Reach, site.Y + from, 2 * Reach, depth, (x, _, c) => pixels.Add((x - zeroX, c)));
        else
            scan.Each(site.X + from, zeroY - Reach, depth, 2 * Reach, (_, y, c) => pixels.Add((y - zeroY, c)));

        var best = (Strength: 0.0, Place: 0.0);
        for (var channel = 0; channel < 3; channel++)
        {
            var (re, im) = Harmonic(pixels, channel, Reach, pitch);
            var strength = re * re + im * im;
            // Lines are darker than what is around them, so their places are where the harmonic is least.
            if (strength > best.Strength)
                best = (strength, Math.Atan2(-im, -re) / (2 * Math.PI) * pitch);
        }
        return best.Place;
    }

    private static (double Re, double Im) Harmonic(
        List<(double Along, LinearRgb Light)> pixels,
        int channel,
        double reach,
        double pitch
    )
    {
        double weights = 0,
            sum = 0;
        foreach (var (along, light) in pixels)
        {
            var w = Hann(along, reach);
            weights += w;
            sum += w * FormScan.Channel(light, channel);
        }
        var mean = sum / weights;
        double re = 0,
            im = 0;
        foreach (var (along, light) in pixels)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * along / pitch);
            var v = Hann(along, reach) * (FormScan.Channel(light, channel) - mean);
            re += cos * v;
            im += sin * v;
        }
        return (re / weights, im / weights);
    }

    private static double Hann(double along, double reach) => 0.5 + 0.5 * Math.Cos(Math.PI * along / reach);
}
