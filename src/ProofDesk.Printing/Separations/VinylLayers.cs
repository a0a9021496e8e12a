using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Which sheet lies on which, bottom first. What lies within another colour is laid on it: the lower sheet stays whole
/// (up to <see cref="MostLayers"/> sheets). Neighbours that only touch, and what would be too thick, are cut
/// out, with an overlap as wide as the register needs. Both are common practice.
/// </summary>
/// <param name="Order">Index of each layer's plate in the separation it came from.</param>
/// <param name="Reasons">For the change-over sheet, one a layer.</param>
/// <param name="LeftOut">Pieces too small to cut, left out; one a layer.</param>
/// <param name="Closed">Holes too small to weed, closed; one a layer.</param>
/// <param name="Thickest">Sheets on each other where there are most.</param>
internal sealed record VinylLayers(
    ImmutableArray<Plate> Plates,
    ImmutableArray<int> Order,
    ImmutableArray<string> Reasons,
    ImmutableArray<int> LeftOut,
    ImmutableArray<int> Closed,
    int Thickest
)
{
    /// <summary>More than three sheets on each other make a board (common practice: 2 to 3).</summary>
    public const int MostLayers = 3;

    /// <summary>A piece or a hole smaller than this in both directions, or a sliver, cannot be cut and weeded (common practice).</summary>
    public const double LeastPieceMm = 1;

    /// <summary>A piece or a hole thinner than this on average is a sliver left between two colours.</summary>
    private const double LeastSliverMm = 0.4;

    public static VinylLayers Of(Separation spot, double overlapMm)
    {
        var least = LeastPieceMm * spot.PixelsPerMm;
        var cleaned = spot.Plates.Select(plate => Clean(plate.Shape!, least)).ToArray();
        int[] order = [.. Enumerable.Range(0, cleaned.Length).OrderByDescending(i => Extent(cleaned[i].Shape))];
        var shapes = order.Select(i => cleaned[i].Shape).ToArray();
        var (width, height) = (shapes[0].Width, shapes[0].Height);
        var depth = new BytePlane(width, height);
        var plates = new Plate[order.Length];
        var reasons = new string[order.Length];
        for (var i = order.Length - 1; i >= 0; i--)
        {
            var covering = Enumerable
                .Range(i + 1, order.Length - i - 1)
                .Where(j => Covers(spot, order[j], order[i]))
                .ToArray();
            var shape = shapes[i];
            var filled = 0;
            if (covering.Length > 0)
            {
                var over = PlateDrawing.Sum([.. covering.Select(j => shapes[j])], width, height);
                (shape, filled) = FillCovered(shape, over, depth);
                var spread = Traps.SpreadUnder(shape, over, overlapMm, spot.PixelsPerMm);
                // Where the overlap closes on itself, pinholes would stay.
                shape = Clean(Connected(spread, shape), least).Shape;
            }
            Deepen(depth, shape);
            plates[i] = spot.Plates[order[i]] with { Purpose = PlatePurpose.Sheet, Shape = shape, FlashAfter = false };
            reasons[i] = Reason(i, filled, covering.Length > 0);
        }
        return new(
            [.. plates],
            [.. order],
            [.. reasons],
            [.. order.Select(i => cleaned[i].LeftOut)],
            [.. order.Select(i => cleaned[i].Closed)],
            depth.Pixels.Max()
        );
    }

    private static string Reason(int layer, int filled, bool overlaps) =>
        layer == 0 && filled > 0 ? $"pressed first, whole under {Holes(filled)} that upper sheets cover"
        : filled > 0 ? $"whole under {Holes(filled)} that upper sheets cover"
        : overlaps ? "runs on under its upper neighbours by the register's overlap"
        : layer == 0 ? "pressed first"
        : "pressed on top";

    private static string Holes(int count) => count == 1 ? "one opening" : $"{count} openings";

    /// <summary>The upper sheet is there on every ground the lower one is on.</summary>
    private static bool Covers(Separation spot, int upper, int lower) =>
        spot.Grounds.All(plan => plan.Runs[upper].Runs || !plan.Runs[lower].Runs);

    private static (BytePlane Shape, int LeftOut, int Closed) Clean(BytePlane shape, double least)
    {
        bool Small(Island area) =>
            area.Width < least && area.Height < least
            || area.Area < LeastSliverMm / LeastPieceMm * least * Math.Max(area.Width, area.Height);
        var clean = Copy(shape);
        var pieces = Islands.Find(clean);
        var leftOut = pieces.All.Count(Small);
        if (leftOut > 0)
            pieces.Paint(clean, 0, Small);
        var holes = Islands.Find(clean, ink: false);
        var closed = holes.All.Count(h => Small(h) && !h.TouchesBorder);
        if (closed > 0)
            holes.Paint(clean, 255, h => Small(h) && !h.TouchesBorder);
        return (clean, leftOut, closed);
    }

    /// <summary>Area with all openings closed: what contains another colour is the larger one.</summary>
    private static long Extent(BytePlane shape) =>
        Islands.Find(shape).All.Sum(i => i.Area)
        + Islands.Find(shape, ink: false).All.Where(h => !h.TouchesBorder).Sum(h => h.Area);

    /// <summary>Closes openings that upper sheets cover throughout and that do not become too thick by it.</summary>
    private static (BytePlane Shape, int Filled) FillCovered(BytePlane shape, BytePlane over, BytePlane depth)
    {
        var holes = Islands.Find(shape, ink: false);
        var open = new HashSet<Island>();
        foreach (var (area, y, from, to) in holes.Runs)
            if (!area.TouchesBorder && !open.Contains(area))
                for (var x = from; x <= to; x++)
                    if (over[x, y] + shape[x, y] < 128 || depth[x, y] >= MostLayers)
                    {
                        open.Add(area);
                        break;
                    }
        bool Fills(Island hole) => !hole.TouchesBorder && !open.Contains(hole);
        var filled = holes.All.Count(Fills);
        if (filled == 0)
            return (shape, 0);
        var whole = Copy(shape);
        holes.Paint(whole, 255, Fills);
        return (whole, filled);
    }

    /// <summary>The spread reaches over gaps of cloth; what does not hang together with the sheet itself is cut off again.</summary>
    private static BytePlane Connected(BytePlane spread, BytePlane own)
    {
        var pieces = Islands.Find(spread);
        var kept = new HashSet<Island>();
        foreach (var (area, y, from, to) in pieces.Runs)
            if (
                !kept.Contains(area)
                && own.Row(y).Slice(from, to - from + 1).IndexOfAnyInRange((byte)128, (byte)255) >= 0
            )
                kept.Add(area);
        pieces.Paint(spread, 0, area => !kept.Contains(area));
        return spread;
    }

    private static void Deepen(BytePlane depth, BytePlane shape)
    {
        for (var i = 0; i < shape.Pixels.Length; i++)
            if (shape.Pixels[i] >= 128)
                depth.Pixels[i]++;
    }

    private static BytePlane Copy(BytePlane plane) => new(plane.Width, plane.Height, [.. plane.Pixels]);
}
