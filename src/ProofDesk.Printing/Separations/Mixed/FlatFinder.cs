using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>Finds what stands flat in art: candidates, their areas, their edges; then slivers left inside are swallowed.</summary>
internal static class FlatFinder
{
    /// <summary>A hole smaller than this in lettering is noise of compression: no mesh holds it.</summary>
    private const double LeastHoleMm2 = 0.04;

    public static FlatArt Find(SizedArt art)
    {
        var codes = new SrgbCodes();
        var candidates = FlatCandidates.Of(ColourHistogram.Of(art.Pixels, codes));
        // Scattered dots of a few colours are flat, every one of them, and no lettering.
        if (candidates.IsEmpty || Dithering.Of(art.Pixels, codes) is not null)
            return FlatArt.None;
        var (colours, labels) = FlatRegions.Find(art.Pixels, codes, candidates, art.PixelsPerMm);
        if (colours.IsEmpty)
            return FlatArt.None;
        var found = new FlatArt(colours, FlatShares.Of(art.Pixels, codes, colours, labels));
        CloseHoles(found, labels, (long)Math.Round(LeastHoleMm2 * art.PixelsPerMm * art.PixelsPerMm));
        return found;
    }

    private static void CloseHoles(FlatArt flat, BytePlane labels, long leastPixels)
    {
        if (leastPixels < 1)
            return;
        var all = PlateDrawing.Sum(flat.Shares, labels.Width, labels.Height);
        foreach (var (hole, y, from, to) in Islands.Find(all, ink: false).Runs.ToArray())
        {
            if (hole.TouchesBorder || hole.Area >= leastPixels || from == 0)
                continue;
            // Whichever colour stands to the left of it.
            var at = from - 1;
            var flatHere = Enumerable.Range(0, flat.Shares.Length).MaxBy(i => flat.Shares[i][at, y]);
            for (var x = from; x <= to; x++)
            for (var i = 0; i < flat.Shares.Length; i++)
                flat.Shares[i][x, y] = i == flatHere ? (byte)255 : (byte)0;
        }
    }
}
