using ProofDesk.Imaging.Rasters;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Artworks;

/// <summary>
/// A picture brought down to a few colours with scattered dots, as for a GIF: hardly any pixel resembles its neighbours. Screened
/// again, the two patterns beat.
/// </summary>
internal static class Dithering
{
    private const int FewColours = 256;

    /// <summary>Pixels unlike all four neighbours; a photograph has hardly any, noise of a camera moves by less.</summary>
    private const double LonelyShare = 0.005;
    private const int Unlike = 16;

    private const int RowsLookedAt = 400;

    public static Finding? Of(RgbaRaster art, SrgbCodes codes)
    {
        var step = Math.Max(1, art.Height / RowsLookedAt);
        var colours = new HashSet<int>();
        var (lonely, looked) = (0L, 0L);
        for (var y = 1; y < art.Height - 1; y += step)
        for (var x = 1; x < art.Width - 1; x++)
        {
            if (art.Pixels[4 * (y * art.Width + x) + 3] < 64000)
                continue;
            if (colours.Add(Code(art, codes, x, y)) && colours.Count > FewColours)
                return null;
            looked++;
            lonely +=
                Differs(art, codes, x, y, x - 1, y)
                && Differs(art, codes, x, y, x + 1, y)
                && Differs(art, codes, x, y, x, y - 1)
                && Differs(art, codes, x, y, x, y + 1)
                    ? 1
                    : 0;
        }
        if (lonely < LonelyShare * looked || looked == 0)
            return null;
        return new(
            "dithered",
            FindingWeight.Warning,
            Text(
                $"the art was brought down to {colours.Count} colours with scattered dots: {100.0 * lonely / looked:0.0} % of its pixels are unlike all their neighbours; its dots and those of the screen beat with each other"
            ),
            "supply the picture as it was before its colours were reduced",
            Math.Round(100.0 * lonely / looked, 1),
            100 * LonelyShare,
            "%"
        );
    }

    private static int Code(RgbaRaster art, SrgbCodes codes, int x, int y)
    {
        var p = art.Pixels.AsSpan(4 * (y * art.Width + x), 3);
        return codes[p[0]] << 16 | codes[p[1]] << 8 | codes[p[2]];
    }

    private static bool Differs(RgbaRaster art, SrgbCodes codes, int x, int y, int nx, int ny)
    {
        var p = art.Pixels.AsSpan(4 * (y * art.Width + x), 3);
        var q = art.Pixels.AsSpan(4 * (ny * art.Width + nx), 3);
        return Math.Abs(codes[p[0]] - codes[q[0]]) >= Unlike
            || Math.Abs(codes[p[1]] - codes[q[1]]) >= Unlike
            || Math.Abs(codes[p[2]] - codes[q[2]]) >= Unlike;
    }
}
