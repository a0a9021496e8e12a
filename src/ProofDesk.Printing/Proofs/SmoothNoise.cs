using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Proofs;

/// <summary>Value noise: seeded values at whole positions, smoothly joined (cubic Hermite), mean 0, within -1..1.</summary>
internal static class SmoothNoise
{
    public static double At(ulong seed, double x, double y)
    {
        var (ix, iy) = ((long)Math.Floor(x), (long)Math.Floor(y));
        var (fx, fy) = (Ease(x - ix), Ease(y - iy));
        var upper = Corner(seed, ix, iy) + fx * (Corner(seed, ix + 1, iy) - Corner(seed, ix, iy));
        var lower = Corner(seed, ix, iy + 1) + fx * (Corner(seed, ix + 1, iy + 1) - Corner(seed, ix, iy + 1));
        return upper + fy * (lower - upper);
    }

    private static double Corner(ulong seed, long x, long y) => 2 * SeededNoise.Uniform(seed, x, y) - 1;

    private static double Ease(double t) => t * t * (3 - 2 * t);
}
