namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Growing and shrinking of ink by discs, 64 pixels at a time (<see cref="DiscRows"/>). Outside the source everything is
/// blank.
/// </summary>
public static class Morphology
{
    /// <summary>
    /// Ink where a pixel of the disc around it is ink. Row y of <paramref name="target"/> lies at row y +
    /// <paramref name="sourceTop"/> of <paramref name="source"/>; give the source a halo of <see cref="Disc.Reach"/> rows.
    /// </summary>
    public static void Dilate(BitPlane source, BitPlane target, int sourceTop, Disc disc) =>
        Rows<DiscRows.Grow>(source, target, sourceTop, disc);

    /// <summary>Ink where all pixels of the disc around it are ink.</summary>
    public static void Erode(BitPlane source, BitPlane target, int sourceTop, Disc disc) =>
        Rows<DiscRows.Shrink>(source, target, sourceTop, disc);

    /// <summary>Dilated plane of the same size.</summary>
    public static BitPlane Dilate(BitPlane source, Disc disc)
    {
        var target = new BitPlane(source.Width, source.Height);
        Dilate(source, target, 0, disc);
        return target;
    }

    /// <summary>Eroded plane of the same size.</summary>
    public static BitPlane Erode(BitPlane source, Disc disc)
    {
        var target = new BitPlane(source.Width, source.Height);
        Erode(source, target, 0, disc);
        return target;
    }

    /// <summary>
    /// Opening: what a disc can reach without leaving the ink. Removes dots and lines narrower than the disc and keeps
    /// everything else as it is. Halo: 2 x <see cref="Disc.Reach"/> rows.
    /// </summary>
    public static void Open(BitPlane source, BitPlane target, int sourceTop, Disc disc)
    {
        var eroded = new BitPlane(source.Width, target.Height + 2 * disc.Reach);
        Erode(source, eroded, sourceTop - disc.Reach, disc);
        Dilate(eroded, target, disc.Reach, disc);
    }

    /// <summary>Opened plane of the same size.</summary>
    public static BitPlane Open(BitPlane source, Disc disc)
    {
        var target = new BitPlane(source.Width, source.Height);
        Open(source, target, 0, disc);
        return target;
    }

    private static void Rows<TJoin>(BitPlane source, BitPlane target, int sourceTop, Disc disc)
        where TJoin : struct, DiscRows.IJoin
    {
        if (source.Width != target.Width)
            throw new ArgumentException($"source is {source.Width} px wide, target {target.Width} px");
        RowLoop.RunBands(
            target.Height,
            Math.Max(64, (1 << 18) / source.Width),
            (top, count) =>
            {
                var rows = new DiscRows();
                rows.Load<TJoin>(source, top + sourceTop, count, disc);
                for (var y = 0; y < count; y++)
                    rows.Join<TJoin>(y, disc, target.Row(top + y));
            }
        );
    }
}
