namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// A tile of ranks, one of each, from seeded noise smoothed to a grain. A mask for a share p is ink where the rank is
/// below p, so the share is exact over a tile and masks for growing shares contain each other.
/// </summary>
public sealed class NoiseMasks
{
    /// <summary>Width of the tile, px: whole words, so rows of masks repeat word by word.</summary>
    public const int Width = 512;

    public const int Height = 512;

    private readonly uint[] _ranks;

    /// <param name="seed">Same seed, same tile.</param>
    /// <param name="grainPx">Standard deviation of the smoothing; 0 = every pixel on its own.</param>
    public NoiseMasks(ulong seed, double grainPx)
    {
        var noise = new float[Width * Height];
        for (var i = 0; i < noise.Length; i++)
            noise[i] = (float)SeededNoise.Uniform(seed, i % Width, i / Width);
        if (grainPx > 0)
            noise = Smoothed(noise, grainPx);
        // Noise is never negative, so its bits order as it does; below them the position, which orders equal values: the tile
        // does not depend on the sort.
        var order = new ulong[noise.Length];
        for (var i = 0; i < order.Length; i++)
            order[i] = (ulong)BitConverter.SingleToUInt32Bits(noise[i]) << 32 | (uint)i;
        Array.Sort(order);
        _ranks = new uint[order.Length];
        for (var rank = 0; rank < order.Length; rank++)
            _ranks[order[rank] & uint.MaxValue] = (uint)rank;
    }

    /// <summary>The tile of bits for a share of 0..1.</summary>
    public BitPlane Mask(double share)
    {
        var below = (uint)Math.Round(Math.Clamp(share, 0, 1) * _ranks.Length);
        var mask = new BitPlane(Width, Height);
        for (var w = 0; w < mask.Words.Length; w++)
        {
            var word = 0UL;
            var ranks = _ranks.AsSpan(w << 6, 64);
            for (var bit = 0; bit < ranks.Length; bit++)
                word |= (ranks[bit] < below ? 1UL : 0) << bit;
            mask.Words[w] = word;
        }
        return mask;
    }

    /// <summary>Blurs around the edges of the tile, so that it repeats without seams.</summary>
    private static float[] Smoothed(float[] noise, double grainPx)
    {
        var radius = (int)Math.Ceiling(3.5 * grainPx);
        var (width, height) = (Width + 2 * radius, Height + 2 * radius);
        var padded = new float[width * height];
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            padded[y * width + x] = noise[Wrap(y - radius, Height) * Width + Wrap(x - radius, Width)];
        var blurred = GaussianBlur.Blur(padded, width, height, grainPx);
        var tile = new float[noise.Length];
        for (var y = 0; y < Height; y++)
            blurred.AsSpan((y + radius) * width + radius, Width).CopyTo(tile.AsSpan(y * Width));
        return tile;
    }

    private static int Wrap(int x, int size) => ((x % size) + size) % size;
}
