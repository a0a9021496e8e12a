using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>A four-cornered piece of cloth that a print does not reach, mm from the print's top left corner.</summary>
/// <param name="InPart">The print reaches some dots of it.</param>
internal readonly record struct BarePatch(
    (double X, double Y) A,
    (double X, double Y) B,
    (double X, double Y) C,
    (double X, double Y) D,
    bool InPart
);

/// <summary>Irregular bands along seams and creases, in patches of about 2 mm: bare in the middle, in part at both sides.</summary>
/// <param name="LeastMm">Narrowest, where there is a band at all.</param>
/// <param name="MostMm">Widest.</param>
/// <param name="Open">Share of the line that has a band; elsewhere the cloth lay flat.</param>
internal readonly record struct BareBand(double LeastMm, double MostMm, double Open)
{
    private const double StepMm = 2;

    /// <summary>How long one width lasts, and how long a band or a gap is.</summary>
    private const double WidthGrainMm = 14;
    private const double GapGrainMm = 45;

    /// <summary>Bare share of the width.</summary>
    private const double Core = 0.4;

    /// <param name="tapered">Runs out to nothing at both ends.</param>
    public IEnumerable<BarePatch> Along(IReadOnlyList<(double X, double Y)> line, bool tapered, ulong seed)
    {
        var points = Walk(line);
        var last = points.Count - 1;
        (double X, double Y)[]? before = null;
        for (var i = 0; i <= last; i++)
        {
            var half = Width(i * StepMm, seed) / 2;
            if (tapered)
                half *= Math.Sqrt(Math.Max(0, Math.Sin(Math.PI * i / Math.Max(1, last))));
            var (from, to) = (points[Math.Max(0, i - 1)], points[Math.Min(last, i + 1)]);
            var length = Math.Max(1e-9, Distance(from, to));
            var (nx, ny) = (-(to.Y - from.Y) / length, (to.X - from.X) / length);
            // The middle wanders too, or both edges would mirror each other.
            var off = 0.4 * half * Noise(seed ^ 0x51DE, i * StepMm / WidthGrainMm);
            var p = points[i];
            (double X, double Y) Beside(double mm) => (p.X + nx * mm, p.Y + ny * mm);
            (double X, double Y)[] edges =
            [
                Beside(off + half),
                Beside(off + Core * half),
                Beside(off - Core * half),
                Beside(off - half),
            ];
            if (before is { } old && half > 0)
                for (var strip = 0; strip < 3; strip++)
                    yield return new(old[strip], edges[strip], edges[strip + 1], old[strip + 1], strip != 1);
            before = half > 0 ? edges : null;
        }
    }

    private double Width(double mm, ulong seed)
    {
        // Noise of this kind is nearly even over -0.8..0.8; gaps open and close over a few millimetres.
        var gate = 0.5 + 0.62 * Noise(seed ^ 0x6A7E, mm / GapGrainMm);
        if (gate > Open)
            return 0;
        var width = LeastMm + (MostMm - LeastMm) * Math.Clamp(0.5 + 0.62 * Noise(seed, mm / WidthGrainMm), 0, 1);
        return width * Math.Min(1, (Open - gate) / 0.08 + 0.15);
    }

    /// <summary>The line as points 2 mm apart.</summary>
    private static List<(double X, double Y)> Walk(IReadOnlyList<(double X, double Y)> line)
    {
        var points = new List<(double X, double Y)> { line[0] };
        var left = StepMm;
        for (var i = 1; i < line.Count; i++)
        {
            var (a, b) = (line[i - 1], line[i]);
            var length = Distance(a, b);
            var at = left;
            for (; at <= length; at += StepMm)
                points.Add((a.X + (b.X - a.X) * at / length, a.Y + (b.Y - a.Y) * at / length));
            left = at - length;
        }
        return points;
    }

    /// <summary>Smooth value noise along a line, within -1..1.</summary>
    private static double Noise(ulong seed, double x)
    {
        var i = (long)Math.Floor(x);
        var t = x - i;
        var (a, b) = (2 * SeededNoise.Uniform(seed, i) - 1, 2 * SeededNoise.Uniform(seed, i + 1) - 1);
        return a + (b - a) * t * t * (3 - 2 * t);
    }

    private static double Distance((double X, double Y) a, (double X, double Y) b) =>
        Math.Sqrt((a.X - b.X) * (a.X - b.X) + (a.Y - b.Y) * (a.Y - b.Y));
}
