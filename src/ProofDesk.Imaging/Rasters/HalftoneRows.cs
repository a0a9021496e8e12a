using System.Collections.Concurrent;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Film rows from a tone plane and an outline of the art's resolution. Ink where the outline's coverage, interpolated by
/// cubic convolution, is at least one half and the tone, interpolated linearly, exceeds the threshold.
/// Whatever is constant over 64 film pixels is not interpolated: blank and solid words are filled, a constant tone is
/// copied from the tile's bit pattern (<see cref="HalftonePlan"/>); the rest is compared 32 pixels at a time.
/// <see cref="PlainHalftone"/> is the judge. Measured (tests/Benchmarks, "kernels"): see docs there for Gpx/s.
/// </summary>
public sealed class HalftoneRows
{
    /// <summary>One half, in the scale of a coverage that went twice through weights of 2^14 with a shift of 15.</summary>
    internal const int HalfCoverage = 255 * ThresholdTile.StepsPerTone / 8;

    private readonly ConcurrentBag<HalftonePlan> _plans = [];

    public HalftoneRows(BytePlane tone, BytePlane? shape, ThresholdTile tile, int width, int height)
    {
        if (shape is not null && (shape.Width != tone.Width || shape.Height != tone.Height))
            throw new ArgumentException(
                $"tone is {tone.Width} x {tone.Height} px, shape {shape.Width} x {shape.Height} px"
            );
        // Art finer than the film is averaged down first.
        var (coarseWidth, coarseHeight) = (Math.Min(tone.Width, width), Math.Min(tone.Height, height));
        Tone = Resample.Shrink(tone, coarseWidth, coarseHeight);
        Shape = shape is null ? null : Resample.Shrink(shape, coarseWidth, coarseHeight);
        Tile = tile;
        Across = new(coarseWidth, width);
        Down = new(coarseHeight, height);
    }

    public int Width => Across.Fine;
    public int Height => Down.Fine;

    internal BytePlane Tone { get; }
    internal BytePlane? Shape { get; }
    internal ThresholdTile Tile { get; }
    internal UpscaleMap Across { get; }
    internal UpscaleMap Down { get; }

    /// <summary>
    /// Fills the band with rows from <paramref name="top"/> on; rows outside the film are blank. Any number of threads may
    /// read at once; buffers are kept from one call to the next.
    /// </summary>
    public void Read(int top, BitPlane band)
    {
        if (band.Width != Width)
            throw new ArgumentException($"the band is {band.Width} px wide, the film {Width} px");
        if (!_plans.TryTake(out var plan))
            plan = new(this);
        for (var y = 0; y < band.Height; y++)
        {
            if (top + y >= 0 && top + y < Height)
                plan.MakeRow(top + y, band.Row(y));
            else
                band.Row(y).Clear();
        }
        _plans.Add(plan);
    }
}
