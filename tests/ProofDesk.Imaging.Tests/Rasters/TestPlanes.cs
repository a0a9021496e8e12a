using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

internal static class TestPlanes
{
    /// <summary>Random runs; a share of them ink. Rows repeat now and then, as they do in films.</summary>
    internal static BitPlane Noise(int width, int height, double share, int longestRun, ulong seed)
    {
        var plane = new BitPlane(width, height);
        for (var y = 0; y < height; y++)
        {
            if (y > 0 && SeededNoise.Uniform(seed, -1, y) < 0.25)
            {
                plane.Row(y - 1).CopyTo(plane.Row(y));
                continue;
            }
            for (int x = 0, n = 0; x < width; n++)
            {
                var run = 1 + (int)(SeededNoise.Uniform(seed ^ 1, n, y) * longestRun);
                if (SeededNoise.Uniform(seed, n, y) < share)
                    BitRows.FillRun(plane.Row(y), x, Math.Min(width, x + run));
                x += run;
            }
        }
        return plane;
    }
}
