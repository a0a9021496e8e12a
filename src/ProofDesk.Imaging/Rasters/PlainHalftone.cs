namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// One film pixel at a time, straight from the definitions: the judge of <see cref="HalftoneRows"/>, which must give the
/// same bits.
/// </summary>
internal static class PlainHalftone
{
    internal static bool Pixel(
        BytePlane tone,
        BytePlane? shape,
        ThresholdTile tile,
        UpscaleMap across,
        UpscaleMap down,
        int x,
        int y
    ) => (shape is null || IsInside(shape, across, down, x, y)) && Tone(tone, across, down, x, y) > tile[x, y];

    /// <summary>Tone x 128, between the four pixels around.</summary>
    private static int Tone(BytePlane tone, UpscaleMap across, UpscaleMap down, int x, int y)
    {
        var i = across.Index[x];
        var left = Down(i);
        var right = Down(i + 1);
        return left + UpscaleMap.MultiplyRounded(right - left, across.Fraction[x]);

        int Down(int column)
        {
            var above = At(tone, column, down.Index[y]) * ThresholdTile.StepsPerTone;
            var below = At(tone, column, down.Index[y] + 1) * ThresholdTile.StepsPerTone;
            return above + UpscaleMap.MultiplyRounded(below - above, down.Fraction[y]);
        }
    }

    /// <summary>Coverage, by cubic convolution of sixteen pixels, at least one half.</summary>
    private static bool IsInside(BytePlane shape, UpscaleMap across, UpscaleMap down, int x, int y)
    {
        var coverage = 0;
        for (var k = 0; k < 4; k++)
        {
            var column = 0;
            for (var j = 0; j < 4; j++)
            {
                var value = At(shape, across.Index[x] + k - 1, down.Index[y] + j - 1);
                column += UpscaleMap.MultiplyRounded(value * ThresholdTile.StepsPerTone, down.Cubic[j][y]);
            }
            coverage += UpscaleMap.MultiplyRounded(column, across.Cubic[k][x]);
        }
        return coverage >= HalftoneRows.HalfCoverage;
    }

    private static int At(BytePlane plane, int x, int y) =>
        plane[Math.Clamp(x, 0, plane.Width - 1), Math.Clamp(y, 0, plane.Height - 1)];
}
