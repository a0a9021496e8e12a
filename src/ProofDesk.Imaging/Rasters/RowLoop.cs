namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// The one door for row loops: an operation only says what happens to a row (or a band of rows). Small pictures run in
/// a plain loop, because starting work on another core costs about as much as 100,000 simple pixels.
/// </summary>
public static class RowLoop
{
    /// <summary>Below this many pixels (or comparable units of work) a plain loop is as fast.</summary>
    private const long SmallWork = 1 << 18;

    /// <summary>Runs <paramref name="row"/> for 0..rows-1; rows must not depend on each other.</summary>
    /// <param name="rows">Number of rows.</param>
    /// <param name="pixelsPerRow">Work in a row, in pixels; decides whether other cores help.</param>
    /// <param name="row">What happens to a row.</param>
    public static void Run(int rows, int pixelsPerRow, Action<int> row)
    {
        if ((long)rows * pixelsPerRow < SmallWork)
        {
            for (var y = 0; y < rows; y++)
                row(y);
            return;
        }
        // Bands of rows, so that a short row does not pay for a call through the scheduler.
        var band = (int)Math.Clamp(SmallWork / 4 / Math.Max(1, pixelsPerRow), 1, rows);
        Parallel.For(
            0,
            (rows + band - 1) / band,
            b =>
            {
                for (var y = b * band; y < Math.Min(rows, (b + 1) * band); y++)
                    row(y);
            }
        );
    }

    /// <summary>
    /// Runs <paramref name="band"/> (first row, number of rows) for consecutive bands. For operations that keep buffers
    /// or running sums over the rows of a band.
    /// </summary>
    public static void RunBands(int rows, int rowsPerBand, Action<int, int> band)
    {
        var bands = (rows + rowsPerBand - 1) / rowsPerBand;
        if (bands <= 1)
        {
            if (rows > 0)
                band(0, rows);
            return;
        }
        Parallel.For(0, bands, b => band(b * rowsPerBand, Math.Min(rowsPerBand, rows - b * rowsPerBand)));
    }
}
