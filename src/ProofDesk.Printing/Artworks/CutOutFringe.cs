using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Artworks;

/// <summary>
/// A bad cut-out keeps a little of what it was cut from: the outermost pixels are paler than the art inside (cut from
/// white) or darker (cut from black, or colours stored multiplied by their transparency). On the other cloth it prints as a line.
/// </summary>
internal static class CutOutFringe
{
    /// <summary>Past the fringe, px inwards from the edge.</summary>
    private const int Inside = 6;

    /// <summary>Steps of Oklab lightness: one pair, and the mean of all.</summary>
    private const double Step = 0.04;
    private const double MeanStep = 0.07;
    private const double MostOfTheEdge = 0.7;
    private const int LeastPairs = 200;

    private const ushort Half = 32768;
    private const ushort Opaque = 64000;

    private struct Counts
    {
        public long Pairs;
        public long Lighter;
        public long Darker;

        /// <summary>Whole thousandths: they add up to the same in any order.</summary>
        public long Steps;
    }

    public static Finding? Of(RgbaRaster art)
    {
        var all = new Counts();
        var gate = new Lock();
        RowLoop.RunBands(
            art.Height,
            64,
            (top, count) =>
            {
                var here = new Counts();
                for (var y = top; y < top + count; y++)
                    Count(art, y, ref here);
                lock (gate)
                    all = new()
                    {
                        Pairs = all.Pairs + here.Pairs,
                        Lighter = all.Lighter + here.Lighter,
                        Darker = all.Darker + here.Darker,
                        Steps = all.Steps + here.Steps,
                    };
            }
        );
        var (pairs, lighter, darker, sum) = (all.Pairs, all.Lighter, all.Darker, all.Steps / 1000.0);
        if (pairs < LeastPairs || Math.Abs(sum / pairs) < MeanStep)
            return null;
        var (light, share) = (sum > 0, Math.Max(lighter, darker) / (double)pairs);
        if (share < MostOfTheEdge)
            return null;
        return new(
            "fringe",
            FindingWeight.Warning,
            light
                ? Text(
                    $"the cut-out has a pale fringe: along {100 * share:0} % of its edge the outermost pixels are paler than the art {Inside} px further in, the rest of a white background; on dark cloth it prints as a pale line"
                )
                : Text(
                    $"the cut-out has a dark fringe: along {100 * share:0} % of its edge the outermost pixels are darker than the art {Inside} px further in, the rest of a dark background or colours multiplied by their transparency; on pale cloth it prints as a dark line"
                ),
            "cut it out again with the edge moved in by 1 to 3 px, or export it with straight (not premultiplied) transparency",
            Math.Round(100 * share),
            Math.Round(100 * MostOfTheEdge),
            "%"
        );
    }

    private static void Count(RgbaRaster art, int y, ref Counts counts)
    {
        for (var x = 0; x < art.Width; x++)
        {
            if (Alpha(art, x, y) < Half)
                continue;
            foreach (var (dx, dy) in (ReadOnlySpan<(int, int)>)[(1, 0), (-1, 0), (0, 1), (0, -1)])
            {
                if (!IsInside(art, x - dx, y - dy) || Alpha(art, x - dx, y - dy) >= Half)
                    continue;
                var (ix, iy) = (x + Inside * dx, y + Inside * dy);
                if (!IsInside(art, ix, iy) || Alpha(art, ix, iy) < Opaque)
                    continue;
                var step = Lightness(art, x, y) - Lightness(art, ix, iy);
                counts.Pairs++;
                counts.Steps += (long)Math.Round(1000 * step);
                counts.Lighter += step > Step ? 1 : 0;
                counts.Darker += step < -Step ? 1 : 0;
            }
        }
    }

    private static bool IsInside(RgbaRaster art, int x, int y) => x >= 0 && y >= 0 && x < art.Width && y < art.Height;

    private static ushort Alpha(RgbaRaster art, int x, int y) => art.Pixels[4 * (y * art.Width + x) + 3];

    private static double Lightness(RgbaRaster art, int x, int y)
    {
        var p = art.Pixels.AsSpan(4 * (y * art.Width + x), 3);
        return Oklab.FromLinear(new(p[0] / 65535.0, p[1] / 65535.0, p[2] / 65535.0)).L;
    }
}
