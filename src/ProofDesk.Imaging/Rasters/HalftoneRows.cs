namespace ProofDesk.Imaging.Rasters;

/// <summary>Film rows from a tone plane and an outline of the art's resolution.</summary>
public sealed class HalftoneRows
{
    /// <summary>One half, in the scale of a coverage that went twice through weights of 2^14 with a shift of 15.</summary>
    internal const int HalfCoverage = 255 * ThresholdTile.StepsPerTone / 8;

    private readonly BytePlane _tone;
    private readonly BytePlane? _shape;
    private readonly ThresholdTile _tile;
    private readonly UpscaleMap _across;
    private readonly UpscaleMap _down;

    public HalftoneRows(BytePlane tone, BytePlane? shape, ThresholdTile tile, int width, int height)
    {
        if (shape is not null && (shape.Width != tone.Width || shape.Height != tone.Height))
            throw new ArgumentException(
                $"tone is {tone.Width} x {tone.Height} px, shape {shape.Width} x {shape.Height} px"
            );
        // Art finer than the film is averaged down first.
        var (coarseWidth, coarseHeight) = (Math.Min(tone.Width, width), Math.Min(tone.Height, height));
        _tone = Resample.Shrink(tone, coarseWidth, coarseHeight);
        _shape = shape is null ? null : Resample.Shrink(shape, coarseWidth, coarseHeight);
        _tile = tile;
        _across = new(coarseWidth, width);
        _down = new(coarseHeight, height);
    }

    public int Width => _across.Fine;
    public int Height => _down.Fine;

    /// <summary>Fills the band with rows from <paramref name="top"/> on; rows outside the film are blank.</summary>
    public void Read(int top, BitPlane band)
    {
        if (band.Width != Width)
            throw new ArgumentException($"the band is {band.Width} px wide, the film {Width} px");
        for (var y = 0; y < band.Height; y++)
        {
            var row = band.Row(y);
            row.Clear();
            if (top + y < 0 || top + y >= Height)
                continue;
            for (var x = 0; x < Width; x++)
                if (PlainHalftone.Pixel(_tone, _shape, _tile, _across, _down, x, top + y))
                    row[x >> 6] |= 1UL << (x & 63);
        }
    }
}
