namespace ProofDesk.Imaging.Rasters;

/// <summary>Byte planes at another size. All sums are whole numbers.</summary>
public static class Resample
{
    /// <summary>
    /// To a size: each direction that gets smaller is averaged with area weights, each that gets larger is interpolated by
    /// cubic convolution.
    /// </summary>
    public static BytePlane To(BytePlane source, int width, int height)
    {
        var shrunk = Shrink(source, Math.Min(width, source.Width), Math.Min(height, source.Height));
        return shrunk.Width == width && shrunk.Height == height ? shrunk : Enlarge(shrunk, width, height);
    }

    /// <summary>
    /// Area average: each new pixel is the mean of the part of the source it covers. The mean of the plane stays. Returns
    /// the source itself when the size is the same.
    /// </summary>
    public static BytePlane Shrink(BytePlane source, int width, int height)
    {
        if (width < 1 || height < 1 || width > source.Width || height > source.Height)
            throw new ArgumentException(
                $"{source.Width} x {source.Height} px cannot be averaged down to {width} x {height} px"
            );
        if (width == source.Width && height == source.Height)
            return source;
        var target = new BytePlane(width, height);
        RowLoop.Run(
            height,
            (int)Math.Min(int.MaxValue, (long)source.Width * source.Height / height),
            y =>
            {
                // In units of 1 / height of a source row: the row covers [y x source height, (y + 1) x source height).
                var columns = new long[source.Width];
                long from = (long)y * source.Height,
                    to = from + source.Height;
                for (var row = (int)(from / height); (long)row * height < to; row++)
                {
                    var weight = Math.Min(to, (row + 1L) * height) - Math.Max(from, (long)row * height);
                    var pixels = source.Row(row);
                    for (var x = 0; x < columns.Length; x++)
                        columns[x] += weight * pixels[x];
                }
                ShrinkRow(columns, target.Row(y), source.Height);
            }
        );
        return target;
    }

    private static void ShrinkRow(long[] columns, Span<byte> target, int sourceHeight)
    {
        var (sourceWidth, width) = (columns.Length, target.Length);
        var whole = (long)sourceWidth * sourceHeight;
        for (var x = 0; x < width; x++)
        {
            long from = (long)x * sourceWidth,
                to = from + sourceWidth,
                sum = 0;
            for (var column = (int)(from / width); (long)column * width < to; column++)
                sum += (Math.Min(to, (column + 1L) * width) - Math.Max(from, (long)column * width)) * columns[column];
            target[x] = (byte)((sum + whole / 2) / whole);
        }
    }

    /// <summary>Cubic convolution (Keys 1981); beyond the border the nearest pixel repeats.</summary>
    public static BytePlane Enlarge(BytePlane source, int width, int height)
    {
        var across = new UpscaleMap(source.Width, width);
        var down = new UpscaleMap(source.Height, height);
        var target = new BytePlane(width, height);
        RowLoop.Run(
            height,
            width * 4,
            y =>
            {
                var columns = new int[source.Width + 4];
                for (var k = 0; k < 4; k++)
                {
                    var row = source.Row(Math.Clamp(down.Index[y] + k - 1, 0, source.Height - 1));
                    int weight = down.Cubic[k][y];
                    for (var x = 0; x < row.Length; x++)
                        columns[x + 2] += row[x] * weight;
                }
                columns[0] = columns[1] = columns[2];
                columns[^1] = columns[^2] = columns[^3];
                var pixels = target.Row(y);
                for (var x = 0; x < width; x++)
                {
                    var i = across.Index[x] + 1;
                    long sum = 0;
                    for (var k = 0; k < 4; k++)
                        sum += (long)columns[i + k] * across.Cubic[k][x];
                    pixels[x] = (byte)Math.Clamp((sum + (1 << 27)) >> 28, 0, 255);
                }
            }
        );
        return target;
    }
}
