namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Deterministic noise from integers: the same seed and position give the same value on every machine. Mixing
/// function: the 64-bit finaliser of SplitMix64 (Steele, Lea, Flood 2014, "Fast splittable pseudorandom number
/// generators").
/// </summary>
public static class SeededNoise
{
    /// <summary>A 64-bit hash of seed and position.</summary>
    public static ulong Hash(ulong seed, long x, long y = 0)
    {
        unchecked
        {
            var z = seed + 0x9E3779B97F4A7C15UL * (ulong)(x + 1) + 0xC2B2AE3D27D4EB4FUL * (ulong)(y + 1);
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }

    /// <summary>Uniform in [0, 1).</summary>
    public static double Uniform(ulong seed, long x, long y = 0) => (Hash(seed, x, y) >> 11) * (1.0 / (1UL << 53));

    /// <summary>Standard normal, by Box and Muller (1958), from two hashes.</summary>
    public static double Normal(ulong seed, long x, long y = 0)
    {
        var u = 1 - Uniform(seed, x, y);
        var v = Uniform(seed ^ 0xD1B54A32D192ED03UL, x, y);
        return Math.Sqrt(-2 * Math.Log(u)) * Math.Cos(2 * Math.PI * v);
    }
}
