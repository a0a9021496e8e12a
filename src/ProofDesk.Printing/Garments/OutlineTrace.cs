using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// The outer boundary of several overlapping pieces as one polygon: the pieces are filled on a grid of 1 mm with their
/// exact cover, and the line of half cover is followed (marching squares). Edges are met within about 0.1 mm, corners
/// are rounded by about half a millimetre; no case of touching or coincident edges needs a rule of its own.
/// </summary>
internal static class OutlineTrace
{
    private const double CellMm = 1;
    private const int Half = 128;

    /// <summary>The largest boundary; holes inside it are not cut out.</summary>
    public static ImmutableArray<(double X, double Y)> Of(IReadOnlyList<(double X, double Y)[]> pieces)
    {
        var (left, top) = (
            pieces.Min(p => p.Min(q => q.X)) - 3 * CellMm,
            pieces.Min(p => p.Min(q => q.Y)) - 3 * CellMm
        );
        var width = (int)Math.Ceiling((pieces.Max(p => p.Max(q => q.X)) - left) / CellMm) + 3;
        var height = (int)Math.Ceiling((pieces.Max(p => p.Max(q => q.Y)) - top) / CellMm) + 3;
        var cover = new BytePlane(width, height);
        foreach (var piece in pieces)
            PolygonFill.Fill(
                cover,
                [
                    [.. piece.Select(p => ((p.X - left) / CellMm, (p.Y - top) / CellMm))],
                ]
            );
        return Largest(cover, left, top);
    }

    private static ImmutableArray<(double X, double Y)> Largest(BytePlane cover, double left, double top)
    {
        var next = Links(cover);
        ImmutableArray<(double X, double Y)> largest = [];
        var most = 0.0;
        while (next.Count > 0)
        {
            var loop = ImmutableArray.CreateBuilder<(double X, double Y)>();
            // The map is walked in the order of the grid, so the answer does not depend on how it is stored.
            var edge = next.Keys.Min();
            while (next.Remove(edge, out var following))
            {
                loop.Add(Crossing(cover, edge, left, top));
                edge = following;
            }
            var area = Math.Abs(PolygonArea.Of(loop));
            if (area > most)
                (most, largest) = (area, loop.ToImmutable());
        }
        return largest;
    }

    /// <summary>
    /// Around each cell of four samples, clockwise, from where the boundary leaves the cloth to where it enters again. An
    /// edge is numbered by the sample at its upper or left end, twice, plus 1 when it runs down.
    /// </summary>
    private static SortedDictionary<int, int> Links(BytePlane cover)
    {
        var (w, h) = (cover.Width, cover.Height);
        var next = new SortedDictionary<int, int>();
        Span<bool> corner = stackalloc bool[4];
        Span<int> edge = stackalloc int[4];
        for (var y = 0; y + 1 < h; y++)
        {
            for (var x = 0; x + 1 < w; x++)
            {
                var i = y * w + x;
                corner[0] = cover.Pixels[i] >= Half;
                corner[1] = cover.Pixels[i + 1] >= Half;
                corner[2] = cover.Pixels[i + w + 1] >= Half;
                corner[3] = cover.Pixels[i + w] >= Half;
                (edge[0], edge[1], edge[2], edge[3]) = (2 * i, 2 * (i + 1) + 1, 2 * (i + w), 2 * i + 1);
                for (var leaving = 0; leaving < 4; leaving++)
                {
                    if (!corner[leaving] || corner[(leaving + 1) & 3])
                        continue;
                    var entering = (leaving + 1) & 3;
                    while (corner[entering] || !corner[(entering + 1) & 3])
                        entering = (entering + 1) & 3;
                    next[edge[leaving]] = edge[entering];
                }
            }
        }
        return next;
    }

    private static (double X, double Y) Crossing(BytePlane cover, int edge, double left, double top)
    {
        var (i, down) = (edge / 2, (edge & 1) == 1);
        var (a, b) = (cover.Pixels[i], cover.Pixels[down ? i + cover.Width : i + 1]);
        var t = (Half - 0.5 - a) / (b - a);
        var (x, y) = (i % cover.Width + 0.5, i / cover.Width + 0.5);
        return (left + CellMm * (x + (down ? 0 : t)), top + CellMm * (y + (down ? t : 0)));
    }
}
