using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// Moire of a halftone on a mesh that is stretched square to the image ([PHYSICS] 1.13): dots and threads are two lattices;
/// the differences of their harmonics i h1 + j h2 - p m1 - q m2 are waves of their own, and the longest of them shows. Harmonics
/// of the dots count up to |i| + |j| = 6; above that they carry nothing one can see.
/// </summary>
public static class MeshBeat
{
    private const int MostHarmonics = 6;

    /// <summary>Longer beats are seen as bands (common practice).</summary>
    public const double SeenMm = 2;

    /// <summary>A beat that never ends is as bad as one across the whole print.</summary>
    public const double LongestMm = 1000;

    /// <summary>The longest beat, mm.</summary>
    public static double PeriodMm(Mesh mesh, double linesPerInch, double angleDegrees)
    {
        var (sin, cos) = Math.SinCos(angleDegrees * Math.PI / 180);
        var (dots, threads) = (linesPerInch / 25.4, mesh.ThreadsPerCm / 10);
        var slowest = double.MaxValue;
        for (var i = -MostHarmonics; i <= MostHarmonics; i++)
        for (var j = Math.Abs(i) - MostHarmonics; j <= MostHarmonics - Math.Abs(i); j++)
        {
            var (x, y) = ((i * cos - j * sin) * dots, (i * sin + j * cos) * dots);
            var (p, q) = (Math.Round(x / threads), Math.Round(y / threads));
            // A harmonic next to none of the threads' is the ruling itself, not a beat.
            if (p == 0 && q == 0)
                continue;
            var (dx, dy) = (x - p * threads, y - q * threads);
            slowest = Math.Min(slowest, Math.Sqrt(dx * dx + dy * dy));
        }
        return Math.Min(LongestMm, 1 / slowest);
    }

    /// <summary>
    /// Of the whole multiples of 2.5 degrees the nearest one whose beat is half of what one sees; else the one with the shortest
    /// beat.
    /// </summary>
    public static (double AngleDegrees, double PeriodMm) QuietAngle(Mesh mesh, double linesPerInch, double angleDegrees)
    {
        var angles = Enumerable
            .Range(0, 36)
            .Select(step => 2.5 * step)
            .Select(angle => (Angle: angle, Beat: PeriodMm(mesh, linesPerInch, angle)))
            .ToList();
        var quiet = angles.Where(a => a.Beat <= SeenMm / 2).ToList();
        return quiet.Count > 0 ? quiet.MinBy(a => Apart(a.Angle, angleDegrees)) : angles.MinBy(a => a.Beat);
    }

    /// <summary>Square lattices look the same after a quarter turn.</summary>
    private static double Apart(double a, double b)
    {
        var apart = Math.Abs(a - b) % 90;
        return Math.Min(apart, 90 - apart);
    }
}
