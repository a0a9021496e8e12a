using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>Where colours meet: length of the lines between two plates, and how much of it has no overlap.</summary>
internal static class Contact
{
    // A line crosses the grid's rows and columns 4 / pi times for each pixel of its length, averaged over directions.
    private const double PerCrossing = Math.PI / 4;

    public static (double Mm, double OpenMm) Between(Separation separation)
    {
        if (separation.Plates.Length < 2)
            return (0, 0);
        var inked = separation.Plates.Select(p => p.Solid is null && p.Shape is { } shape ? shape : p.Wanted).ToArray();
        var (width, height) = (inked[0].Width, inked[0].Height);
        var sums = new (long All, long Open)[height];
        RowLoop.Run(
            height,
            width * inked.Length,
            y =>
            {
                long all = 0,
                    open = 0;
                for (var x = 0; x < width; x++)
                {
                    if (x + 1 < width)
                        Meet(inked, y * width + x, y * width + x + 1, ref all, ref open);
                    if (y + 1 < height)
                        Meet(inked, y * width + x, (y + 1) * width + x, ref all, ref open);
                }
                sums[y] = (all, open);
            }
        );
        var mm = PerCrossing / separation.PixelsPerMm;
        return (mm * sums.Sum(s => s.All), mm * sums.Sum(s => s.Open));
    }

    private static void Meet(BytePlane[] inked, int here, int there, ref long all, ref long open)
    {
        var (a, b) = (Top(inked, here), Top(inked, there));
        if (a == b || a < 0 || b < 0)
            return;
        all++;
        // The lower of the two runs on under the upper one, or the seam has nothing to spare.
        var (lower, covered) = a < b ? (a, there) : (b, here);
        if (inked[lower].Pixels[covered] < 128)
            open++;
    }

    private static int Top(BytePlane[] inked, int at)
    {
        for (var i = inked.Length - 1; i >= 0; i--)
            if (inked[i].Pixels[at] >= 128)
                return i;
        return -1;
    }
}
